"""What `gapbook try` prints: a table for people, JSON with a published schema for programs."""

import json
from collections.abc import Iterator
from textwrap import fill

from generator.assessment.finding import Finding, Outcome
from generator.evidence.remedies import Remedy, SiteRemedies
from generator.evidence.schema import SCHEMA_VERSION
from generator.evidence.trial import Trial, joined_sides, rests_on
from generator.evidence.verdict import AxleVerdict, SiteVerdict
from generator.evidence.worth import Measurement
from generator.quantities.units import Probability
from generator.records.fitted import AxleSetup
from generator.records.names import named_list
from generator.records.words import Axle

_WIDTH = 98
_TOLD = (Outcome.FAILS, Outcome.TOO_CLOSE_TO_SAY)
_CAUTION = (
    "These are chances from a club's records and a sheet, no approval. Look at every gap on the "
    "car itself before it is driven; the vehicle maker's data, local codes and licensed practice "
    "go before all that is said here."
)


def as_table(trial: Trial) -> str:
    """Write a trial for a terminal, the weakest site of each end first."""
    lines = [f"{trial.candidate.chassis.id}, from {trial.candidate.start}", ""]
    for axle in trial.verdict.axles():
        lines += [*_axle(trial, axle), ""]
    lines += [*_together(trial), ""]
    lines += _findings(trial)
    for mended in trial.remedies:
        lines += [*_remedies(mended), ""]
    lines += _worth(trial.worth)
    return "\n".join([*lines, fill(_CAUTION, _WIDTH)])


def _axle(trial: Trial, axle: AxleVerdict) -> Iterator[str]:
    yield f"{axle.axle.value}: {fitted_words(trial.candidate.axle(axle.axle))}"
    yield f"  {'site':34} {'side':5} {'':9} {'chance':>6}  {'gap, 5 to 95 %':16} {'wanted':>6}"
    for site, side in joined_sides(axle):
        yield _site(site, side)
        where = site.clearance.least.words if site.clearance.least else site.refused
        rests = f"{where}; rests on {rests_on(trial, axle.axle, site)}"
        yield fill(rests, _WIDTH, initial_indent=" " * 4, subsequent_indent=" " * 4)


def _site(site: SiteVerdict, side: str) -> str:
    label = site.clearance.site.label
    short = label if len(label) <= 34 else f"{label[:33]}…"
    chance = "" if site.chance is None else percent(site.chance)
    gap = "" if site.gap is None else f"{site.gap.low:z.0f} to {site.gap.high:z.0f} mm"
    wanted = f"{site.clearance.wanted:g} mm"
    return f"  {short:34} {side:5} {site.word:9} {chance:>6}  {gap:16} {wanted:>6}"


def percent(chance: Probability) -> str:
    """Write a chance in whole per cent; never as certain.

    >>> percent(0.999), percent(0.42), percent(0.001)
    ('> 99 %', '42 %', '< 1 %')
    """
    if chance >= 0.995:
        return "> 99 %"
    return "< 1 %" if chance < 0.005 else f"{100.0 * chance:.0f} %"


def fitted_words(fitted: AxleSetup) -> str:
    """Say in one line what is fitted at one end."""
    wheel, said = fitted.wheel, []
    offset = wheel.offset_measured or wheel.offset
    said.append(f"wheel {wheel.size}, offset {offset.typed if offset else 'not known'}")
    said.append(f"spacer {fitted.spacer.thickness.typed}" if fitted.spacer else "no spacer")
    said.append(f"tyre {fitted.tyre.size}")
    if fitted.camber is not None:
        said.append(f"camber {fitted.camber.typed}")
    if fitted.ride_height is not None and fitted.ride_height.change is not None:
        said.append(f"ride height {fitted.ride_height.change.typed}")
    if fitted.bump_stop is not None:
        said.append(f"bump stop {fitted.bump_stop.state.value}")
    if fitted.stop_shim is not None:
        said.append(f"steering-stop shim {fitted.stop_shim.typed}")
    if fitted.bodywork is not None and fitted.bodywork.lips is not None:
        said.append(f"lips {fitted.bodywork.lips.value}")
    return ", ".join(said)


def _together(trial: Trial) -> Iterator[str]:
    for axle in trial.verdict.axles():
        if axle.joint is not None:
            yield (
                f"all known sites at the {axle.axle.value} at once: "
                f"{percent(axle.joint.probability)}, whatever binds them at most "
                f"{percent(axle.joint.most)}"
            )
    if trial.verdict.chance is None:
        yield "the whole car: no chance can be told"
        for refused in dict.fromkeys(trial.verdict.refused):
            yield fill(
                f"not known: {refused}", _WIDTH, initial_indent="  ", subsequent_indent="    "
            )
    else:
        yield f"the whole car, every site at both ends: {percent(trial.verdict.chance)}"


def told_findings(trial: Trial) -> tuple[Finding, ...]:
    """Give the findings that do not hold."""
    return tuple(each for each in trial.assessment.findings if each.outcome in _TOLD)


def _findings(trial: Trial) -> Iterator[str]:
    found = told_findings(trial)
    unknown = [each for each in trial.assessment.findings if each.outcome is Outcome.NOT_KNOWN]
    yield f"hardware, loads and brakes: {len(found)} to put right, {len(unknown)} not known"
    for each in found:
        where = each.axle.value if each.axle else "car"
        yield _item(f"[{each.code}] {where}: {each.sentence} {each.follows}")
    if unknown:
        yield _item(f"not known: {', '.join(dict.fromkeys(each.hazard for each in unknown))}")
    yield ""


def _item(text: str, indent: int = 2) -> str:
    blank = " " * indent
    return fill(text, _WIDTH, initial_indent=f"{blank}- ", subsequent_indent=f"{blank}  ")


def _remedies(mended: SiteRemedies) -> Iterator[str]:
    yield f"what helps at the {mended.site.label}, {mended.axle.value} ({mended.word})"
    if mended.told:
        yield _item(mended.told)
    for remedy in mended.remedies:
        yield _item(_remedy(remedy))


def _remedy(remedy: Remedy) -> str:
    steps = ", and ".join(step.words for step in remedy.steps)
    parts = [f"{steps}: then {remedy.word}, {percent(remedy.chance)}."]
    if remedy.mends:
        parts.append(f"Clears too: {named_list(remedy.mends)}.")
    if remedy.spoils:
        worse = dict.fromkeys(f"{each.label} ({each.after})" for each in remedy.spoils)
        parts.append(f"Spoils: {named_list(worse)}.")
    if remedy.findings:
        worse = dict.fromkeys(f"{each.hazard} [{each.code}]" for each in remedy.findings)
        parts.append(f"Calls for a look at: {', '.join(worse)}.")
    return " ".join([*parts, *(step.costs for step in remedy.steps)])


def _worth(measurements: tuple[Measurement, ...]) -> Iterator[str]:
    if not measurements:
        return
    yield "what to measure first, on this car or another"
    for each in measurements:
        yield _item(
            f"{each.label}, {each.key.axle.value} {each.key.side.value}, {each.state.value}, with "
            f"{each.tool.value}: {each.why}"
        )
    yield ""


def as_json(trial: Trial) -> str:
    """Write a trial as JSON after `schema.SCHEMA`."""
    document = {
        "version": SCHEMA_VERSION,
        "chassis": trial.candidate.chassis.id,
        "from": trial.candidate.start,
        "chance": _rounded(trial.verdict.chance),
        "refused": list(dict.fromkeys(trial.verdict.refused)),
        "axles": [_axle_row(trial, axle) for axle in trial.verdict.axles()],
        "findings": [_finding_row(each) for each in trial.assessment.findings],
        "remedies": [_remedies_row(each) for each in trial.remedies],
        "worth_measuring": [_worth_row(each) for each in trial.worth],
        "caution": _CAUTION,
    }
    return json.dumps(document, indent=2, ensure_ascii=True, allow_nan=False)


def _rounded(number: float | None) -> float | None:
    return None if number is None else round(number, 6)


def _axle_row(trial: Trial, axle: AxleVerdict) -> dict[str, object]:
    joint = axle.joint
    return {
        "axle": axle.axle.value,
        "fitted": fitted_words(trial.candidate.axle(axle.axle)),
        "word": axle.word,
        "chance_of_known_sites": _rounded(joint.probability) if joint else None,
        "sites": [_site_row(trial, axle.axle, site) for site in axle.sites],
    }


def _site_row(trial: Trial, axle: Axle, site: SiteVerdict) -> dict[str, object]:
    least, gap = site.clearance.least, site.gap
    return {
        "site": site.clearance.site.name,
        "label": site.clearance.site.label,
        "side": site.side.value,
        "condition": site.clearance.condition.value,
        "word": site.word,
        "wanted": site.clearance.wanted,
        "chance": _rounded(site.chance),
        "chance_of_any_gap": _rounded(site.free),
        "computed": _rounded(least.gap.value) if least else None,
        "gap": None
        if gap is None
        else [round(each, 3) for each in (gap.low, gap.median, gap.high)],
        "pose": least.words if least else "",
        "rests_on": rests_on(trial, axle, site),
        "refused": site.refused,
    }


def _finding_row(finding: Finding) -> dict[str, object]:
    return {
        "code": finding.code,
        "hazard": finding.hazard,
        "axle": finding.axle.value if finding.axle else None,
        "side": finding.side.value,
        "outcome": finding.outcome.value,
        "sentence": finding.sentence,
        "follows": finding.follows,
        "source": finding.source,
    }


def _remedies_row(mended: SiteRemedies) -> dict[str, object]:
    return {
        "axle": mended.axle.value,
        "site": mended.site.name,
        "word": mended.word,
        "told": mended.told,
        "remedies": [
            {
                "steps": [
                    {"kind": step.kind.value, "words": step.words, "costs": step.costs}
                    for step in remedy.steps
                ],
                "word": remedy.word,
                "chance": _rounded(remedy.chance),
                "mends": list(remedy.mends),
                "spoils": [
                    {
                        "label": each.label,
                        "side": each.side.value,
                        "before": each.before,
                        "after": each.after,
                    }
                    for each in remedy.spoils
                ],
                "findings": [_finding_row(each) for each in remedy.findings],
            }
            for remedy in mended.remedies
        ],
    }


def _worth_row(each: Measurement) -> dict[str, object]:
    return {
        "axle": each.key.axle.value,
        "site": each.key.site,
        "side": each.key.side.value,
        "state": each.state.value,
        "tool": each.tool.value,
        "worth": round(each.worth, 6),
        "why": each.why,
    }
