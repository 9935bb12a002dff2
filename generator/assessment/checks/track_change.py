"""The track of an axle grew or shrank."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Gravity, Hazard
from generator.geometry.bound import Change

HAZARD = Hazard(
    "H19",
    "track",
    "A wider track changes steering, balance and loads, and many places limit it: 25 mm in one, "
    "26 mm in another, nothing in a third.",
    "SAREGULATIONS",
    Gravity.NOTE,
    Caution.LAW,
)


def findings(end: End) -> Iterator[Finding]:
    """State the change of track against stock; which limit applies is the reader's to look up.

    Source: own derivation: twice the outboard shift of the tyre's centre plane.
    """
    change = end.fit.change
    if change is None:
        yield HAZARD.not_known(
            end.where,
            "The change of track is not known, as the wheel's offset is not.",
            measure="Measure from tread centre to tread centre at hub height, ahead of and behind "
            "the axle, and take the mean.",
        )
        return
    track = Change(end.sheet.track.value, end.sheet.track.value + change.track.value)
    grows = "wider" if track.absolute >= 0.0 else "narrower"
    both = "" if end.where.side.value == "both" else ", if both sides were alike"
    yield HAZARD.stated(
        end.where,
        change.track,
        "mm",
        sentence=f"The {end.axle.value} track is {abs(track.absolute):.0f} mm {grows} than stock "
        f"({abs(track.percent or 0.0):.1f} %){both}.",
        follows="The limit is the law's: ask the authority or an approved inspector.",
    )
