"""A name mixes letters of several scripts."""

import unicodedata
from collections.abc import Iterator
from typing import Any

from generator.reading.fault import Fault, Severity
from generator.reading.source import Route
from generator.reading.text import named, scripts
from generator.records.library import Filed, Library
from generator.records.rule import Rule

_TOGETHER = (
    frozenset({"HIRAGANA", "KATAKANA", "CJK", "FULLWIDTH"}),
    frozenset({"HANGUL", "CJK"}),
    frozenset({"BOPOMOFO", "CJK"}),
)
"""Scripts that one language writes together, as in Unicode Technical Standard 39, 5.2."""
_OF_NO_SCRIPT = frozenset({"MODIFIER", "FEMININE", "MASCULINE", "MICRO"})

RULE = Rule(
    code="L10",
    title="a name of several scripts",
    severity=Severity.WARNING,
    why="Letters of another script can look like those of this one, so that two names that look "
    "alike are not. A pasted letter is the usual cause.",
    mend="Type the name afresh on one keyboard; the message gives the letters' code points.",
    source="Unicode Technical Standard 39, 5.2",
    bad='setup: {member: "\\u0421opperbill"}',
    good="setup: {member: Copperbill}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Look at the scripts of all names."""
    for name, filed, route in _names(library):
        found = scripts(name) - _OF_NO_SCRIPT
        if len(found) < 2 or any(found <= together for together in _TOGETHER):
            continue
        signs = [_script(sign) for sign in name]
        rarest = min(sorted(found), key=signs.count)
        odd = [sign for sign in name if _script(sign) == rarest]
        yield RULE.fault(
            filed.place(*route),
            f"`{name}` mixes letters of {' and '.join(sorted(word.title() for word in found))}",
            expected="letters of one script",
            fix=f"replace {', '.join(named(sign) for sign in dict.fromkeys(odd))}",
        )


def _script(sign: str) -> str:
    return next(iter(scripts(unicodedata.normalize("NFC", sign))), "")


def _names(library: Library) -> Iterator[tuple[str, Filed[Any], Route]]:
    """Give each name with its file and where it stands there; to look there takes its time."""
    if library.club is not None:
        yield library.club.value.name, library.club, ("name",)
    for sheet in library.chassis.values():
        yield sheet.value.name, sheet, ("name",)
        for index, other in enumerate(sheet.value.also_called):
            yield other, sheet, ("also_called", index)
    for setup in library.setups.values():
        value = setup.value
        yield value.member, setup, ("member",)
        for index, confirmation in enumerate(value.confirmations):
            yield confirmation.member, setup, ("confirmations", index, "member")
        for index, dispute in enumerate(value.disputes):
            yield dispute.member, setup, ("disputes", index, "member")
