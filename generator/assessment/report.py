"""What `gapbook assess` prints: a table for people, JSON with a published schema for programs."""

import json
from collections.abc import Iterator
from typing import TypeAlias

from generator.assessment.assess import Assessment
from generator.assessment.effects import Effect, SiteChange
from generator.assessment.finding import Finding, Outcome
from generator.assessment.numbers import Named, NamedCurve, curves, numbers
from generator.geometry.bound import Number
from generator.quantities.estimate import Basis
from generator.records.words import Axle, Side

SCHEMA_VERSION = 1
_TOLD = 5
"""Places of a curve that the table tells: both ends, the middle, and between."""

Schema: TypeAlias = dict[str, object]

_TEXT: Schema = {"type": "string"}
_NUMBER = {"type": ["number", "null"], "description": "null is not known"}
_U = {
    "type": ["number", "null"],
    "minimum": 0,
    "description": "standard uncertainty, one sigma, in the same unit",
}


def _object(**properties: object) -> Schema:
    return {
        "type": "object",
        "required": list(properties),
        "additionalProperties": False,
        "properties": properties,
    }


def _list(of: Schema) -> Schema:
    return {"type": "array", "items": of}


_NAMED = _object(
    name={"type": "string", "description": "stable name, axle first"},
    label=_TEXT,
    unit={"enum": ["mm", "%"]},
    value=_NUMBER,
    u=_U,
    basis={"enum": [*(basis.value for basis in Basis), None]},
    sources=_list(_TEXT),
    remark={"type": "string", "description": "why a number is not known"},
)
_FINDING = _object(
    code=_TEXT,
    hazard=_TEXT,
    axle={"enum": [*(axle.value for axle in Axle), None], "description": "null: the whole car"},
    side={"enum": [side.value for side in Side]},
    outcome={"enum": [outcome.value for outcome in Outcome]},
    sentence=_TEXT,
    value=_NUMBER,
    u=_U,
    bound=_NUMBER,
    unit=_TEXT,
    source=_TEXT,
    follows=_TEXT,
)
_CURVE = _object(
    axle={"enum": [axle.value for axle in Axle]},
    site=_TEXT,
    label=_TEXT,
    side={"enum": [side.value for side in Side]},
    by={"enum": ["travel", "steer"]},
    at={
        "type": "array",
        "items": {"type": "number"},
        "description": "travel in mm, steered straight, from the sheet's reference height; "
        "or steer in degrees, toe-out positive, standing",
    },
    gaps=_list({"type": "number", "description": "mm"}),
)
_CHANGE = _object(
    site=_TEXT, label=_TEXT, side={"enum": [side.value for side in Side]}, mm={"type": "number"}
)
_EFFECT = _object(
    axle={"enum": [axle.value for axle in Axle]},
    change=_TEXT,
    amount=_NUMBER,
    unit=_TEXT,
    gained=_list(_CHANGE),
    cost=_list(_CHANGE),
    consequences=_list(_object(words=_TEXT, amount={"type": "number"}, unit=_TEXT)),
    unknown=_list(_TEXT),
    notes=_list(_TEXT),
)

SCHEMA: dict[str, object] = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "title": "gapbook assess",
    **_object(
        version={"const": SCHEMA_VERSION},
        setup={"type": "string", "description": "id of the setup"},
        numbers=_list(_NAMED),
        curves=_list(_CURVE),
        findings=_list(_FINDING),
        effects=_list(_EFFECT),
    ),
}


def as_json(assessment: Assessment, effects: tuple[Effect, ...]) -> str:
    """Write all results of a setup as JSON after `SCHEMA`."""
    document = {
        "version": SCHEMA_VERSION,
        "setup": assessment.setup,
        "numbers": [_row(named) for named in numbers(assessment)],
        "curves": [_curve_row(curve) for curve in curves(assessment)],
        "findings": [_finding_row(finding) for finding in assessment.findings],
        "effects": [_effect_row(effect) for effect in effects],
    }
    return json.dumps(document, indent=2, ensure_ascii=True, allow_nan=False)


def _row(named: Named) -> dict[str, object]:
    estimate = named.estimate
    return {
        "name": named.name,
        "label": named.label,
        "unit": named.unit,
        "value": _rounded(estimate.value if estimate else None),
        "u": _rounded(estimate.u if estimate else None),
        "basis": estimate.basis.value if estimate else None,
        "sources": list(estimate.sources) if estimate else [],
        "remark": named.remark,
    }


def _curve_row(told: NamedCurve) -> dict[str, object]:
    return {
        "axle": told.axle.value,
        "site": told.clearance.site.name,
        "label": told.clearance.site.label,
        "side": told.clearance.side.value,
        "by": told.by,
        "at": [round(each, 6) for each in told.curve.at],
        "gaps": [round(each, 6) for each in told.curve.gaps],
    }


def _rounded(value: Number | None) -> Number | None:
    return None if value is None else round(value, 6)


def _finding_row(finding: Finding) -> dict[str, object]:
    return {
        "code": finding.code,
        "hazard": finding.hazard,
        "axle": finding.axle.value if finding.axle else None,
        "side": finding.side.value,
        "outcome": finding.outcome.value,
        "sentence": finding.sentence,
        "value": _rounded(finding.value),
        "u": _rounded(finding.u),
        "bound": _rounded(finding.bound),
        "unit": finding.unit,
        "source": finding.source,
        "follows": finding.follows,
    }


def _effect_row(effect: Effect) -> dict[str, object]:
    return {
        "axle": effect.axle.value,
        "change": effect.change,
        "amount": _rounded(effect.amount),
        "unit": effect.unit,
        "gained": [_change_row(change) for change in effect.gained],
        "cost": [_change_row(change) for change in effect.cost],
        "consequences": [
            {"words": each.words, "amount": round(each.amount, 6), "unit": each.unit}
            for each in effect.consequences
        ],
        "unknown": list(effect.unknown),
        "notes": list(effect.notes),
    }


def _change_row(change: SiteChange) -> dict[str, object]:
    return {
        "site": change.site,
        "label": change.label,
        "side": change.side.value,
        "mm": round(change.amount, 6),
    }


def as_table(assessment: Assessment, effects: tuple[Effect, ...]) -> str:
    """Write all results of a setup for a terminal: numbers, then findings, then effects."""
    lines = [f"{assessment.setup}", ""]
    for named in numbers(assessment):
        axle, label = named.name.split(".", 1)[0], named.label
        stock = "stock " if ".stock." in named.name else ""
        head = f"{axle:5}  {stock}{label}"
        lines.append(f"{head:74} {_value(named)}".rstrip())
    lines += _curve_lines(assessment)
    lines += ["", "Findings", ""]
    lines += [_finding_line(finding) for finding in assessment.findings]
    if effects:
        lines += ["", "What each change did", ""]
        lines += [line for effect in effects for line in _effect_lines(effect)]
    return "\n".join(lines)


def _curve_lines(assessment: Assessment) -> Iterator[str]:
    """Write the gaps of sites that the wheel moves against, at five places of each curve."""
    for by, words, unit in (
        ("travel", "through travel, steered straight; travel from the sheet's reference", "mm"),
        ("steer", "through steer, standing; toe-out positive", "deg"),
    ):
        for axle in Axle:
            told = [each for each in curves(assessment) if (each.axle, each.by) == (axle, by)]
            if not told:
                continue
            yield from ("", f"Gap in mm {words}, {axle.value}", "")
            yield _curve_line(f"{by}, {unit}", told[0].curve.at, "+z.0f")
            for each in told:
                yield _curve_line(
                    f"{each.clearance.site.label}{_side_words(each.clearance.side)}",
                    each.curve.gaps,
                    "z.0f",
                )


def _curve_line(head: str, values: tuple[Number, ...], form: str) -> str:
    told = values[:: (len(values) - 1) // (_TOLD - 1)]
    return f"  {head:52}" + "".join(f"{format(each, form):>8}" for each in told)


def _finding_line(finding: Finding) -> str:
    where = finding.axle.value if finding.axle else "car"
    return f"{where:5}  {finding.outcome.value:17} {finding.code}  {finding.sentence}"


def _effect_lines(effect: Effect) -> list[str]:
    lines = [f"{effect.axle.value:5}  {effect.change}"]
    for changes, word in ((effect.gained, "gained"), (effect.cost, "cost")):
        lines += [
            f"         {word} {each.amount:+.1f} mm at {each.label}{_side_words(each.side)}"
            for each in changes
        ]
    lines += [
        f"         {each.words}: {each.amount:+.1f} {each.unit}" for each in effect.consequences
    ]
    return [*lines, *(f"         {note}" for note in effect.notes)]


def _side_words(side: Side) -> str:
    return "" if side is Side.BOTH else f", {side.value}"


def _value(named: Named) -> str:
    estimate = named.estimate
    if estimate is None:
        return f"not known{f': {named.remark}' if named.remark else ''}"
    return f"{estimate.value:z9.1f} ± {estimate.u:4.1f} {named.unit:2}  {estimate.basis.value}"
