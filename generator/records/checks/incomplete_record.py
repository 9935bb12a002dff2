"""Sites were left without a word, or looked at only with the car at rest or on one side."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.gap_pairs import MOVES_WITH_WHEEL, site_gaps
from generator.records.library import Case
from generator.records.names import folded
from generator.records.rule import Rule
from generator.records.setup import Gap, Rub, Setup
from generator.records.site_sheet import SiteSheet
from generator.records.words import Side, State

_MOST_NAMED = 6
"""More names would make the message longer than it is useful."""

RULE = Rule(
    code="R40",
    title="sites that were left without a word",
    severity=Severity.WARNING,
    why="A site that nobody looked at is not a site that clears, and at rest a part of the body is "
    "far from where the tyre comes in bump and at lock. The two sides of a car differ by "
    "millimetres. Such a record counts as checked at most.",
    mend="Measure them, or write `gap: not checked` or a line under `not_checked` that names them. "
    "Not checked is worth more than a blank.",
    source="common practice",
    bad="setup: {remedies: [], not_checked: left out,"
    " gaps: [{site: strut-tube, side: both, state: static, gap: 9 mm}]}",
    good="setup:\n"
    "  remedies: []\n"
    "  not_checked: [fender lip and brake hose, quarter lip, inner wheelhouse]\n"
    "  gaps: [{site: strut-tube, side: both, state: static, gap: 9 mm}]",
    asks=True,
)


def check(case: Case) -> Iterator[Fault]:
    """List in one fault what a record leaves open."""
    if case.chassis is None or not (case.setup.is_complete and case.chassis.is_complete):
        return
    setup = case.setup.value
    if setup.withdrawn is not None:
        return
    named = _named(setup)
    sites = [site for site in case.chassis.value.sites if not _is_named(site, named)]
    silent = [site for site in sites if not _has_gap(setup, site)]
    at_rest = [site for site in sites if _is_only_at_rest(case, site)]
    one_sided = [site for site in sites if _is_one_sided(setup, site)]
    if not silent and not at_rest and not one_sided:
        return
    parts = [f"no word on {_list(silent)}"] if silent else []
    parts += [f"only at rest: {_list(at_rest)}"] if at_rest else []
    parts += [f"one side only: {_list(one_sided)}"] if one_sided else []
    whole = len(case.chassis.value.sites)
    fault = RULE.fault(
        case.setup.key_place("gaps"),
        "; ".join(parts),
        expected=f"a gap or `not checked` for each of the sheet's {whole} sites, on both sides, in "
        "the state that governs",
        fix="add the gaps, or name the sites under `not_checked`",
    )
    yield RULE.note(fault) if setup.not_checked else fault


def _named(setup: Setup) -> str:
    return folded(" ".join(setup.not_checked)) if setup.not_checked else ""


def _is_named(site: SiteSheet, named: str) -> bool:
    return folded(site.name) in named or folded(site.label) in named


def _has_gap(setup: Setup, site: SiteSheet) -> bool:
    lines: tuple[Gap | Rub, ...] = (*setup.gaps, *setup.rubs)
    return any(line.site == site.name and line.axle in (None, site.axle) for line in lines)


def _is_one_sided(setup: Setup, site: SiteSheet) -> bool:
    lines: tuple[Gap | Rub, ...] = (*setup.gaps, *setup.rubs)
    sides = {
        line.side for line in lines if line.site == site.name and line.axle in (None, site.axle)
    }
    return site.only is None and len(sides) == 1 and Side.BOTH not in sides


def _is_only_at_rest(case: Case, site: SiteSheet) -> bool:
    if site.moves_with in MOVES_WITH_WHEEL:
        return False
    states = {said.gap.state for said in site_gaps(case) if said.site is site}
    return states == {State.STATIC}


def _list(sites: list[SiteSheet]) -> str:
    named = ", ".join(f"`{site.name}`" for site in sites[:_MOST_NAMED])
    more = f" and {len(sites) - _MOST_NAMED} more" if len(sites) > _MOST_NAMED else ""
    return named + more
