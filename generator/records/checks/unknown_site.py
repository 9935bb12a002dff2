"""A record speaks of a site that its chassis sheet does not have."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.names import expecting
from generator.records.rule import Rule
from generator.records.words import Axle

RULE = Rule(
    code="L03",
    title="an unknown site",
    severity=Severity.ERROR,
    why="A gap counts only at a place whose shape the sheet knows. A slip of spelling would lose "
    "the measurement without a word.",
    mend="Use the name of a site of the sheet, at the end of the car where it is; a new place is "
    "first added to the sheet.",
    source="own rule of the guide",
    bad="setup: {rubs: [{site: fender-lips, side: left, grade: 1, when: kerb, cured: yes}]}",
    good="setup: {rubs: [{site: fender-lip, side: left, grade: 1, when: kerb, cured: yes}]}",
)


def check(case: Case) -> Iterator[Fault]:
    """Look up every site that the record names."""
    if case.chassis is None:
        return
    known = {(site.axle, site.name) for site in case.chassis.value.sites}
    for name, axle, route in _named(case):
        if axle is None and any(name == site for _, site in known):
            continue
        if axle is not None and (axle, name) in known:
            continue
        yield _fault(case, name, axle, route)


def _fault(case: Case, name: str, axle: Axle | None, route: tuple[str | int, ...]) -> Fault:
    assert case.chassis is not None
    sites = case.chassis.value.sites
    elsewhere = next((site.axle for site in sites if site.name == name), None)
    if elsewhere is not None and axle is not None:
        return RULE.fault(
            case.setup.place(*route),
            f"the sheet has `{name}` at the {elsewhere.value}, not at the {axle.value}",
            expected=f"a site of the {axle.value}",
            fix=f"write `axle: {elsewhere.value}`, or the {axle.value} site that was meant",
        )
    names = [site.name for site in sites if axle is None or site.axle is axle]
    expected, near = expecting(name, names)
    return RULE.fault(
        case.setup.place(*route),
        f"the sheet has no site `{name}`",
        expected=expected or "a site of the sheet",
        fix=f"write `{near}`" if near else "add the place to the chassis sheet first",
    )


def _named(case: Case) -> Iterator[tuple[str, Axle | None, tuple[str | int, ...]]]:
    """Give each name with the end of the car it is said of, and where it stands."""
    setup = case.setup.value
    for index, gap in enumerate(setup.gaps):
        yield gap.site, gap.axle, ("gaps", index, "site")
    for index, rub in enumerate(setup.rubs):
        yield rub.site, rub.axle, ("rubs", index, "site")
    for index, remedy in enumerate(setup.remedies):
        for at, name in enumerate(remedy.cured):
            yield name, remedy.axle, ("remedies", index, "cured", at)
    for index, dispute in enumerate(setup.disputes):
        if dispute.site is not None:
            yield dispute.site, None, ("disputes", index, "site")
    for axle, fitted, _ in case.axles():
        for at, name in enumerate(fitted.bodywork.changed if fitted.bodywork else ()):
            yield name, axle, (axle.value, "bodywork", "changed", at)
