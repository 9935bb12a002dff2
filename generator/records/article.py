"""An article of the handbook: a short head of fields, then Markdown."""

from typing import Annotated

from generator.reading.decoding import decoded
from generator.reading.fault import Fault, Place, Severity
from generator.reading.fields import Count, Line, Model, described, listed, word
from generator.reading.source import SourceFile, load
from generator.records.words import Subject


class ArticleHead(Model):
    """The fields above an article's text."""

    title: Line = described("title", example="Measuring each gap", required=True)
    summary: Line = described(
        "one line that says what it is for", example="Tool, place and repeatability", required=True
    )
    order: Count = described("place in the list of articles", example="30", required=True)
    explains: tuple[Annotated[Subject, word(Subject)], ...] = listed(
        "what it explains; pages that speak of it lead here", example="[measuring gaps]"
    )


_FENCE = "---"
LONGEST_ARTICLE = 60_000


def split_article(path: str, content: bytes) -> tuple[SourceFile | None, str, tuple[Fault, ...]]:
    """Split an article into its head, as a source file, and its Markdown text.

    The head stands between two lines of three hyphens at the top of the file.
    """
    text, notes = decoded(path, content)
    if text is None:
        return None, "", notes
    lines = text.split("\n")
    if lines[0].strip() != _FENCE or _FENCE not in [line.strip() for line in lines[1:30]]:
        headline = "this article has no head"
        expected = "a line `---`, the fields `title`, `summary` and `order`, a line `---`"
        return None, "", (*notes, Fault("F12", Severity.ERROR, headline, Place(path), expected))
    end = next(at for at, line in enumerate(lines[1:], 1) if line.strip() == _FENCE)
    # The fence becomes an empty line, so that the head's lines keep their numbers.
    head = "\n".join(["", *lines[1:end]])
    source, faults = load(path, head.encode("utf-8"))
    return source, "\n".join(lines[end + 1 :]).strip() + "\n", (*notes, *faults)
