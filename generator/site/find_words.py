"""The choices of Find: what each asks of a setup, in the words the guide uses elsewhere.

What nobody wrote is a word of its own; it is never counted as none.
"""

from collections.abc import Callable, Mapping
from typing import Final

from generator.frozen import dataclass
from generator.quantities.units import Mm
from generator.records.fitted import AxleSetup
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.records.words import Axle, SpacerKind
from generator.site.guide import Guide
from generator.site.lifecycle import STANDINGS, standing
from generator.site.listing import ROAD_NOT_TOLD, SetupLine
from generator.site.readings import CLEARS, TIGHT, TOUCHES, UNKNOWN
from generator.site.synonyms import alike
from generator.site.trims import GROUPS, trims

NOT_KNOWN: Final = "not known"
_SAME_HEIGHT: Mm = 3.0
"""A tape over a wheel tells no less than this, so that less is no change of height."""
_REPORTED: Final = {CLEARS: "clears", TIGHT: "tight", TOUCHES: "touches", UNKNOWN: NOT_KNOWN}


@dataclass(frozen=True)
class WordGiver:
    """All that a choice may look at."""

    guide: Guide
    filed: Filed[Setup]
    line: SetupLine
    replaced: Mapping[str, Filed[Setup]]

    @property
    def setup(self) -> Setup:
        """Give the record."""
        return self.filed.value

    @property
    def ends(self) -> tuple[AxleSetup, AxleSetup]:
        """Give both ends."""
        return (self.setup.front, self.setup.rear)


@dataclass(frozen=True)
class Choice:
    """A list of words to choose from; a setup has one of them, or several where `is_many`."""

    key: str
    label: str
    words: Callable[[WordGiver], tuple[str, ...]]
    order: tuple[str, ...] = ()
    is_many: bool = False
    is_open: bool = False

    def word_id(self, word: str) -> str:
        """Give the word as it stands in an address, in letters and digits of ASCII.

        >>> CHOICES[1].word_id("in question")
        'in-question'
        """
        kept = "".join(sign if sign.isascii() and sign.isalnum() else "-" for sign in alike(word))
        return "-".join(part for part in kept.split("-") if part) or "other"


def _expected(it: WordGiver) -> tuple[str, ...]:
    """Give what is expected on the next car: the worst of both ends; unknown before tight."""
    verdict = it.guide.verdicts.get(it.filed.id)
    if verdict is None:
        return (NOT_KNOWN,)
    words = {site.word for end in (verdict.front, verdict.rear) for site in end.sites}
    for word in ("touches", NOT_KNOWN, "tight", "clears"):
        if word in words:
            return (word,)
    return (NOT_KNOWN,)


def _height(it: WordGiver) -> tuple[str, ...]:
    found = set()
    chassis = it.guide.library.chassis.get(it.setup.chassis)
    for axle, end in zip(Axle, it.ends, strict=True):
        height = end.ride_height
        if height is None:
            continue
        change = height.change.value if height.change else None
        if change is None and height.hub_to_lip is not None and chassis is not None:
            reference = getattr(chassis.value, axle.value).ride_height.hub_to_lip.value
            change = height.hub_to_lip.value - reference
        if change is not None:
            found.add(_height_word(change))
    return tuple(word for word in _HEIGHTS if word in found) or ("not told",)


def _height_word(change: Mm) -> str:
    if abs(change) <= _SAME_HEIGHT:
        return "as the sheet"
    return "lowered" if change < 0.0 else "raised"


NO_FLAG: Final = "no flag"
"""Of a record that is withdrawn, or whose chassis has no sheet."""
_HEIGHTS = ("lowered", "as the sheet", "raised")


def _spacer(it: WordGiver) -> tuple[str, ...]:
    kinds = {end.spacer.kind.value for end in it.ends if end.spacer is not None}
    return tuple(sorted(kinds)) or ("none written",)


def _trims(it: WordGiver) -> tuple[str, ...]:
    found = {each.group for axle in Axle for each in trims(it.setup, axle, {})}
    return tuple(word for word in GROUPS if word in found) or ("none written",)


def _use(it: WordGiver) -> tuple[str, ...]:
    road = it.setup.road
    if road is None:
        return ("not told",)
    found = ["road"] if road.distance.value > 0.0 else []
    if road.track_sessions:
        found.append("track")
    if road.full_load:
        found.append("full load")
    return tuple(found) or ("not driven",)


def _square(it: WordGiver) -> tuple[str, ...]:
    front, rear = it.ends
    is_same = str(front.wheel.size) == str(rear.wheel.size)
    same_tyre = front.tyre.size.designation == rear.tyre.size.designation
    return ("same front and rear" if is_same and same_tyre else "front and rear differ",)


_GAP_WORDS = ("clears", "tight", "touches", NOT_KNOWN)
CHOICES = (
    Choice("chassis", "Chassis", lambda it: (it.line.chassis,), is_open=True),
    Choice("flag", "How far borne out", lambda it: (it.line.flag or NO_FLAG,),
           ("proven", "checked", "reported", "in question", NO_FLAG), is_open=True),
    Choice("reported", "As reported", lambda it: (_REPORTED[it.line.headline.word],), _GAP_WORDS,
           is_open=True),
    Choice("expected", "Expected on the next car", _expected, _GAP_WORDS),
    Choice("road", "Road test", lambda it: (it.line.outcome,),
           ("no mark", "mark found", "not driven", ROAD_NOT_TOLD, "withdrawn")),
    Choice("trim", "Trims", _trims, (*GROUPS, "none written"), is_many=True),
    Choice("height", "Ride height", _height, (*_HEIGHTS, "not told"), is_many=True),
    Choice("use", "Use", _use, ("road", "track", "full load", "not driven", "not told"),
           is_many=True),
    Choice("spacer-kind", "Kind of spacer", _spacer,
           (*(kind.value for kind in SpacerKind), "none written"), is_many=True),
    Choice("ends", "Front and rear", _square),
    Choice("standing", "Standing", lambda it: (standing(it.filed, it.replaced),), STANDINGS),
)  # fmt: skip
