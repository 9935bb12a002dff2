"""The reader's own fault codes, explained once: for `gapbook why`, the gallery and the tests."""

from functools import cache

from generator.quantities import (
    bolt_circle,
    date_code,
    quantity,
    rim_size,
    seat,
    span,
    thread,
    tyre_size,
)
from generator.quantities.misread import Explained
from generator.reading.fault import Severity

_FILE: tuple[Explained, ...] = (
    Explained(
        "Y01", "a file that is too large",
        "A record is a page of text. A larger file is a mistake or an attempt to stop the build.",
        "Shorten the notes, or split what belongs to two cars into two records.",
        "", "",
    ),
    Explained(
        "Y02", "a file that is not UTF-8 text",
        "All files of the guide are read as UTF-8, so that every reader sees the same letters.",
        "Save the file again as UTF-8; most editors have it in the save dialogue.",
        "", "",
    ),
    Explained(
        "Y03", "a character that cannot stand in a record",
        "Control characters, line separators of other systems and characters that do not exist "
        "break files, logs and drawings, or show a reviewer something else than is there.",
        "Delete the character; the message gives its code point and its place.",
        'title: "wide \\x07 wheels"', "title: wide wheels",
    ),
    Explained(
        "Y04", "text that is not YAML",
        "The file does not follow the rules by which fields and values are told apart.",
        "Look at the line and the one above it: a missing blank after a colon, a colon inside an "
        "unquoted text, or a quote that is not closed is the usual cause.",
        "title: wide: and low", 'title: "wide: and low"',
    ),
    Explained(
        "Y05", "a tab in the indentation",
        "YAML counts blanks; a tab has no agreed width.",
        "Replace tabs at the start of lines by two blanks each.",
        "front:\n\ttyre:", "front:\n  tyre:",
    ),
    Explained(
        "Y06", "an anchor, an alias or a merge key",
        "They let a short file stand for a huge one, and a reviewer cannot see the values.",
        "Write the values out where they are needed. A text that begins with `&` or `*` needs "
        "quotes.",
        "title: &name Wide", "title: Wide",
    ),
    Explained(
        "Y07", "a tag",
        "Tags ask the reader to make something else than text of a value. Nothing here needs them.",
        "Leave the tag out.",
        "title: !!binary V2lkZQ==", "title: Wide",
    ),
    Explained(
        "Y08", "a field written twice",
        "YAML readers keep one of the two without a word; which one is luck.",
        "Keep the line that is right and delete the other.",
        "title: Wide\ntitle: Wider", "title: Wider",
    ),
    Explained(
        "Y09", "a key that is not the name of a field",
        "Numbers, truth words, lists and empty keys are not names of fields.",
        "Write the name of the field; `gapbook new` writes a record with all of them.",
        "1: Wide", "title: Wide",
    ),
    Explained(
        "Y10", "a second document or a directive",
        "One file is one record. Lines such as `---` in the middle begin another one.",
        "Move the second document into a file of its own.",
        "title: Wide\n---\ntitle: Wider", "title: Wide",
    ),
    Explained(
        "Y11", "a file without fields",
        "The file is empty, or begins with a list or a plain text.",
        "Begin with fields such as `title: …`.",
        "- Wide", "title: Wide",
    ),
    Explained(
        "Y12", "groups nested too deep",
        "No record needs more than a few levels; deep nesting is used to stop readers.",
        "Compare with an example record and remove the surplus levels.",
        "title: [[[[[[[[[[[[[Wide]]]]]]]]]]]]]", "title: Wide",
    ),
    Explained(
        "Y13", "too many parts",
        "A record with thousands of entries is a mistake or an attempt to stop the build.",
        "Keep what was measured on this car; leave out copies.",
        "", "",
    ),
    Explained(
        "Y14", "a value that is too long",
        "No field holds so long a text.",
        "Shorten it; notes may have 4096 characters.",
        "", "",
    ),
    Explained(
        "Y15", "an odd file format, read all the same",
        "The file begins with a byte order mark or has line ends of another system.",
        "Nothing has to be done; saving it as plain UTF-8 removes the note.",
        "", "",
    ),
    Explained(
        "Y16", "a file that is not an ordinary file of the guide",
        "Links, folders with a record's name, and files with unusual names or endings are not "
        "read: they can lead out of the guide's folder, or mean two files on another system.",
        "Give the file an ordinary name of lower-case letters, digits and hyphens, and put it "
        "where the records of its kind are.",
        "", "",
    ),
    Explained(
        "Y17", "a published page that would end",
        "A change takes away the file of a page that readers have links to. An address never dies: "
        "a record that no longer counts is withdrawn and keeps its page, and one that was renamed "
        "or joined with another leads on to it.",
        "Put the file back and add `withdrawn` with date and reason, or list the old address and "
        "the page that takes its place under `moved` in club.yaml.",
        "", "",
    ),
)  # fmt: skip

_FIELD: tuple[Explained, ...] = (
    Explained(
        "F01", "a missing field",
        "The record cannot be used without this field.",
        "Add it. What it holds, with an example, is in the message.",
        "rubs:\n  - {site: fender-lip, side: left, grade: 1}",
        "rubs:\n  - {site: fender-lip, side: left, grade: 1, when: full lock on a kerb}",
    ),
    Explained(
        "F02", "a field without a value",
        "The name stands there and nothing behind it; empty is not the same as unknown.",
        "Write the value, or delete the line.",
        "title:", "title: Wide and low",
    ),
    Explained(
        "F03", "an unknown field",
        "The name is not one of the fields of this group. A slip of spelling would otherwise lose "
        "the value without a word.",
        "Use the name offered, or one of those listed; remarks belong into the notes.",
        "titel: Wide and low", "title: Wide and low",
    ),
    Explained(
        "F04", "a word that is not one of the choices",
        "This field holds one of a few words, so that records can be compared and filtered.",
        "Use one of the words listed.",
        "method: {springs: removed}", "method: {springs: out}",
    ),
    Explained(
        "F05", "a group, list or value in the wrong place",
        "The field holds another kind of thing: a group of fields, a list, or a single value.",
        "Compare with an example record.",
        "title: [Wide, low]", "title: Wide and low",
    ),
    Explained(
        "F06", "not a bare number",
        "This field holds a number without a unit: a count, a ratio or a number of turns.",
        "Write digits and at most one decimal point.",
        "front: {hardware: {turns: nine and a half}}", "front: {hardware: {turns: 9.5}}",
    ),
    Explained(
        "F07", "not a date",
        "Dates are written year first, so that no one can take the day for the month.",
        "Write year, month and day with hyphens, such as 2025-06-14.",
        "date: 14/06/2025", "date: 2025-06-14",
    ),
    Explained(
        "F08", "not a short name",
        "Short names become addresses of pages and names of files on every system.",
        "Use lower-case letters, digits and single hyphens.",
        "car: Copperbill's Coupe", "car: copperbill-coupe",
    ),
    Explained(
        "F09", "a text that this field cannot hold",
        "The text is too long for its field, or holds characters that are hidden, turn the "
        "direction of reading or stack up.",
        "Shorten it or delete the character; the message says which.",
        'title: "wide \\u202e and low"', "title: wide and low",
    ),
    Explained(
        "F10", "a number far outside its usual range",
        "The number is so far out that a slip is nearly certain: an inch value in millimetres, a "
        "lost sign, a value in the wrong field.",
        "Measure or look again. If it is right, tell the maintainers why in the notes and ask for "
        "the range to be widened.",
        "front: {wheel: {offset: 220 mm}}", "front: {wheel: {offset: 22 mm}}",
    ),
    Explained(
        "F11", "a number outside its usual range",
        "The number is possible and rare. It is worth a second look before others rely on it.",
        "Look again; if it is right, say so in the notes.",
        "odometer: 710000 km", "odometer: 71000 km",
    ),
    Explained(
        "F12", "an article without a head",
        "An article begins with a few fields between two lines of three hyphens: its title, a "
        "summary and its place in the list.",
        "Write the head above the text, as in the other articles.",
        "Measuring each gap", "---\ntitle: Measuring each gap\nsummary: tool and place\n"
        "order: 30\n---\nText.",
    ),
)  # fmt: skip


_PHOTO: tuple[Explained, ...] = (
    Explained(
        "P01", "a photo that is too large or too small",
        "A picture of some kilobytes can unfold to gigabytes of pixels; its size is read before it "
        "is unfolded. The guide shows at most 1600 pixels in width.",
        "Scale it to 1600 pixels in width, or write it anew with `gapbook photo`.",
        "", "",
    ),
    Explained(
        "P02", "a file that is no photo of the guide",
        "The guide reads JPEG, PNG and WebP pictures. What a file is follows from its first bytes "
        "and not from its name; both have to agree.",
        "Save the picture as JPEG, with a name ending in `.jpg`.",
        "", "",
    ),
    Explained(
        "P03", "a picture that is not whole",
        "The file ends too early, holds several pictures in place of one, or cannot be decoded.",
        "Open it in a viewer and save it anew.",
        "", "",
    ),
    Explained(
        "P04", "a photo that says where it was taken",
        "Phones write the place into the picture: of a garage, that is somebody's home. The guide "
        "would leave it out, and the file among the records would still tell it, in every copy and "
        "in every later state of the repository.",
        "Write the picture anew with `gapbook photo`. If it was sent to a forge already, send the "
        "change on a new branch and ask the maintainers to delete the old one there.",
        "", "",
    ),
    Explained(
        "P05", "a photo that carries more than its picture",
        "Notes of cameras and programs tell the device, its number, times and names. The guide "
        "shows the pixels alone, without a byte of them.",
        "Nothing has to be done. To have the notes out of the records too, write the picture anew "
        "with `gapbook photo`.",
        "", "",
    ),
)  # fmt: skip

_MILDER = {
    "F11": Severity.WARNING, "P05": Severity.NOTE, "Q10": Severity.NOTE, "Y15": Severity.NOTE,
}  # fmt: skip


def severity_of(code: str) -> Severity:
    """Give the severity of a code of the reader; Y16 is milder where a file is only misplaced."""
    return _MILDER.get(code, Severity.ERROR)


@cache
def explained() -> dict[str, Explained]:
    """Give all codes of the reader and of the trade notation, in order."""
    rooms = (quantity, span, tyre_size, rim_size, thread, bolt_circle, date_code, seat)
    found = [*_FILE, *_FIELD, *_PHOTO, *(code for room in rooms for code in room.CODES)]
    return {code.code: code for code in sorted(found, key=lambda code: code.code)}


FIELD_CODES = _FIELD
FILE_CODES = _FILE
PHOTO_CODES = _PHOTO
