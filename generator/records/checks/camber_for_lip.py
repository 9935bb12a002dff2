"""Camber is said to have cured an outboard site, and leans the tyre towards it."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.words import Facing, RemedyKind

RULE = Rule(
    code="R48",
    title="camber with the wrong sign",
    severity=Severity.WARNING,
    why="Only camber that leans the top inboard, a negative number here, makes room at a lip. A "
    "positive one takes room away.",
    mend="Camber is positive where the top leans outboard.",
    source="ISO 8855, from memory",
    bad="setup: {front: {camber: 1.5 deg}, remedies: [{kind: camber, axle: front,"
    " cured: [fender-lip]}]}",
    good="setup: {front: {camber: -1.5 deg}, remedies: [{kind: camber, axle: front,"
    " cured: [fender-lip]}]}",
)


def check(case: Case) -> Iterator[Fault]:
    """Look at the camber of each end where camber made room outboard."""
    for index, remedy in enumerate(case.setup.value.remedies):
        camber = getattr(case.setup.value, remedy.axle.value).camber
        if remedy.kind is not RemedyKind.CAMBER or camber is None or not camber.value > 0.0:
            continue
        sites = [case.site(name, remedy.axle) for name in remedy.cured]
        outboard = [site for site in sites if site and site.facing is Facing.OUTBOARD]
        if outboard:
            yield RULE.fault(
                case.setup.place(remedy.axle.value, "camber"),
                f"a camber of {camber.typed} leans the tyre towards `{outboard[0].name}`, which it "
                "is said to have cured",
                expected="a negative camber",
                fix=f"write `camber: -{camber.typed.lstrip('+')}` if the top leans inboard",
                also=(marked(case.setup, "what it cured", "remedies", index, "kind"),),
            )
