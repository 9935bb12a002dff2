"""A cut tyre, or contact at a hose, wire, brake or steering part, is not cured."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.gap_pairs import site_gaps
from generator.records.hazard import must_not_touch
from generator.records.library import Case
from generator.records.rule import Rule
from generator.records.setup import Rub
from generator.records.words import Outcome

CUT = 3
"""From this grade on rubber is cut: the record's own scale."""

RULE = Rule(
    code="R37",
    title="contact that must not be driven with",
    severity=Severity.ERROR,
    why="A cut tyre is unsafe inside, and a hose, wire, brake or steering part that a tyre touches "
    "will fail. Such a fitting is not one that others may copy.",
    mend="Do not drive. Scrap a cut tyre, have brake and steering parts looked at by a licensed "
    "workshop, cure the contact and write what cured it; or withdraw the record with its reason.",
    source="common practice",
    bad="setup: {rubs: [{site: brake-hose, side: left, grade: 1, when: full lock}]}",
    good="setup: {rubs: [{site: brake-hose, side: left, grade: 1, when: full lock, cured: yes,"
    " remedy: bracket moved by 12 mm}]}",
)


def check(case: Case) -> Iterator[Fault]:
    """Look for contact that is dangerous and stands as it was found."""
    setup = case.setup.value
    if setup.withdrawn is not None:
        return
    parked = setup.road is None or setup.road.outcome is Outcome.NOT_DRIVEN
    for index, rub in enumerate(setup.rubs):
        what = _danger(case, rub)
        if not what or rub.cured:
            continue
        fault = RULE.fault(
            case.setup.place("rubs", index, "grade"),
            f"{what} at `{rub.site}`, and not cured",
            expected="a cure, or a record that is withdrawn",
            fix="do not drive; cure it and add `cured: yes` with `remedy`, or add `withdrawn`",
        )
        said_no = rub.cured is False and parked
        yield RULE.warning(fault) if said_no else fault
    for said in site_gaps(case):
        if said.high <= 0.0 and must_not_touch(said.site):
            fault = RULE.fault(
                case.setup.place(*said.route),
                f"{said.site.label} touches, {said.words}",
                expected=f"{said.site.wanted.typed} or more",
                fix="do not drive; move the part or change the wheel, and measure again",
            )
            yield RULE.warning(fault) if parked else fault


def _danger(case: Case, rub: Rub) -> str:
    if rub.grade >= CUT:
        return f"a cut of grade {rub.grade}"
    site = case.site(rub.site, rub.axle)
    if rub.grade > 0 and site is not None and must_not_touch(site):
        return f"contact of grade {rub.grade} with {site.label}"
    return ""
