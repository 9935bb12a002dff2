"""The nuts were not checked again after the first drive."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard
from generator.geometry.bound import PRACTICE, at_most
from generator.quantities.units import Km

LATEST: Km = 100.0
"""First check of the nuts at 50 km, at the latest at 100: common practice and tyre makers."""

HAZARD = Hazard(
    "H13",
    "tightening again",
    "Paint, coatings and seats settle in the first kilometres and clamp load is lost. A nut that "
    "turns at the check shows it.",
    "PRACTICE",
    Gravity.CARE,
    Caution.FASTENERS,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the distance to the first check against 100 km, and ask whether a nut turned.

    Source: [PRACTICE] after 50 km, again at 100 km.
    """
    hardware = end.fitted.hardware
    after = hardware.retorqued_after if hardware else None
    if hardware is None or after is None:
        yield HAZARD.not_known(
            end.where,
            "Whether the nuts were checked after the first drive is not known.",
            measure="Check at the vehicle maker's torque after 50 to 100 km (30 to 60 mi), cold, "
            "without slackening, and again once more.",
        )
        return
    yield HAZARD.checked(
        end.where,
        at_most(after.value, LATEST, source=PRACTICE),
        "km",
        sentence=f"The nuts were checked again after {after.value:.3g} km.",
        follows=Follows(
            holds="And again before each event and after any wheel was off.",
            fails="Check within the first 50 to 100 km (30 to 60 mi).",
        ),
    )
    if hardware.nuts_moved is None:
        yield HAZARD.not_known(
            end.where,
            "Whether a nut turned at the check is not known.",
            measure="Mark nuts and wheel with a line of paint and look at the lines.",
        )
        return
    if hardware.nuts_moved and hardware.settled_after is not None:
        yield _settled(end, after.value, hardware.settled_after.value)
        return
    yield HAZARD.judged(
        end.where,
        holds=not hardware.nuts_moved,
        sentence="A nut turned at the check."
        if hardware.nuts_moved
        else "No nut turned at the check.",
        follows=Follows(
            holds="",
            fails="Check again at short intervals until none turns; look for paint on pad and "
            "seats. A nut that keeps turning: do not drive.",
        ),
    )


def _settled(end: End, first: Km, later: Km) -> Finding:
    """Tell whether a later check settles what the first one found."""
    is_later = later > first
    return HAZARD.judged(
        end.where,
        holds=is_later,
        sentence=f"A nut turned at the first check; after {later:.3g} km none turned any more."
        if is_later
        else f"A nut turned at the check after {first:.3g} km, and the check said to be later was "
        f"after {later:.3g} km.",
        follows=Follows(
            holds="The joint has settled; look again before each event and after any wheel was "
            "off.",
            fails="Check again at short intervals until none turns. A nut that keeps turning: do "
            "not drive.",
        ),
    )
