"""The alternative text of a photo says nothing of what the photo shows."""

import re
from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule

RULE = Rule(
    code="R51",
    title="a photo without words",
    severity=Severity.WARNING,
    why="The text stands in for the picture: for who cannot see it, where it does not load, and "
    "for the search. A file's name or the word `photo` says nothing.",
    mend="Write what is to be seen: the tool, the site, the position of the wheel, the reading.",
    source="[WCAG22] 1.1.1",
    bad="setup:\n  photos:\n    - {file: gauge.jpg, alt: IMG_1234.jpg}",
    good="setup:\n  photos:\n"
    "    - {file: gauge.jpg, alt: 'Feeler gauge of 6 mm at the strut, left, full lock'}",
    asks=True,
)
_FILE_NAME = re.compile(
    r"(?:[a-z]{2,5}[ _-]?)?[0-9_ -]{3,}(?:\.\w+)?\Z|\S+\.(?:jpe?g|png|webp)\Z", re.I
)
_LEAST_WORDS = 3


def check(case: Case) -> Iterator[Fault]:
    """Judge the words of each photo."""
    for at, photo in enumerate(case.setup.value.photos):
        text = photo.alt.strip()
        if _FILE_NAME.match(text) or len(text.split()) < _LEAST_WORDS:
            yield RULE.fault(
                case.setup.place("photos", at, "alt"),
                f"`{text[:40]}` does not say what the photo shows",
                expected="tool, site, position of the wheel and reading, in words",
                fix="write what somebody would be told who cannot see it",
            )
