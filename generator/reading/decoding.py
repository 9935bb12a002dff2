"""From bytes to text: UTF-8 of bounded length, with nothing in it that cannot be printed."""

from generator.reading.fault import Fault, Place, Severity
from generator.reading.text import first_forbidden, named

LARGEST = 64 * 1024
"""Bytes; the longest record of the demo is a tenth of it."""

PRINTABLE = "printable text, blanks and line ends"


def decoded(path: str, content: bytes) -> tuple[str | None, tuple[Fault, ...]]:
    """Give the text of a file, with notes; None with one error where it has no text to give.

    A byte order mark is skipped and line ends of other systems are made plain; both are told.
    """
    start = Place(path)
    if len(content) > LARGEST:
        headline, expected = f"this file has {len(content)} bytes", f"at most {LARGEST} bytes"
        return None, (Fault("Y01", Severity.ERROR, headline, start, expected),)
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        headline = f"the byte at offset {error.start} is not UTF-8 text"
        fix = "save the file as UTF-8 in the editor"
        place = _byte_place(path, error)
        return None, (Fault("Y02", Severity.ERROR, headline, place, "UTF-8 text", fix=fix),)
    notes = []
    if text.startswith("\ufeff"):
        text = text[1:]
        headline = "this file begins with a byte order mark; it was skipped"
        notes.append(Fault("Y15", Severity.NOTE, headline, start))
    if "\r" in text:
        text = _plain_ends(text)
        headline = "this file has line ends of another system; they were read as line ends"
        notes.append(Fault("Y15", Severity.NOTE, headline, start))
    bad = first_forbidden(text.replace("\t", " "), newlines=True)
    if bad is not None:
        return None, (*notes, _character_fault(path, text, bad))
    return text, tuple(notes)


def _byte_place(path: str, error: UnicodeDecodeError) -> Place:
    before = _plain_ends(error.object[: error.start].decode("utf-8").removeprefix("\ufeff"))
    line = before.count("\n") + 1
    column = len(before) - before.rfind("\n")
    return Place(path, line, column, line, column + 1)


def _plain_ends(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _character_fault(path: str, text: str, at: int) -> Fault:
    line = text.count("\n", 0, at) + 1
    begin = text.rfind("\n", 0, at) + 1
    end = text.find("\n", at)
    excerpt = text[begin : end if end >= 0 else None][:400]
    place = Place(path, line, at - begin + 1, line, at - begin + 2, excerpt)
    headline = f"the character {named(text[at])} cannot stand in a record"
    return Fault("Y03", Severity.ERROR, headline, place, PRINTABLE, fix="delete it")
