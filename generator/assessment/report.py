"""What `gapbook assess` prints: a table for people, JSON with a published schema for programs."""

import json

from generator.assessment.assess import Assessment
from generator.assessment.numbers import Named, numbers

SCHEMA_VERSION = 1

SCHEMA: dict[str, object] = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "title": "gapbook assess",
    "type": "object",
    "required": ["version", "setup", "numbers"],
    "additionalProperties": False,
    "properties": {
        "version": {"const": SCHEMA_VERSION},
        "setup": {"type": "string", "description": "id of the setup"},
        "numbers": {
            "type": "array",
            "items": {
                "type": "object",
                "required": ["name", "label", "unit", "value", "u", "basis", "sources", "remark"],
                "additionalProperties": False,
                "properties": {
                    "name": {"type": "string", "description": "stable name, axle first"},
                    "label": {"type": "string"},
                    "unit": {"enum": ["mm", "%"]},
                    "value": {"type": ["number", "null"], "description": "null is not known"},
                    "u": {
                        "type": ["number", "null"],
                        "minimum": 0,
                        "description": "standard uncertainty, one sigma, in the same unit",
                    },
                    "basis": {
                        "enum": ["measured", "published", "stamped", "inferred", "assumed", None]
                    },
                    "sources": {"type": "array", "items": {"type": "string"}},
                    "remark": {"type": "string", "description": "why a number is not known"},
                },
            },
        },
    },
}


def as_json(assessment: Assessment) -> str:
    """Write every number of a setup as JSON after `SCHEMA`."""
    document = {
        "version": SCHEMA_VERSION,
        "setup": assessment.setup,
        "numbers": [_row(named) for named in numbers(assessment)],
    }
    return json.dumps(document, indent=2, ensure_ascii=True, allow_nan=False)


def _row(named: Named) -> dict[str, object]:
    estimate = named.estimate
    return {
        "name": named.name,
        "label": named.label,
        "unit": named.unit,
        "value": round(estimate.value, 6) if estimate else None,
        "u": round(estimate.u, 6) if estimate else None,
        "basis": estimate.basis.value if estimate else None,
        "sources": list(estimate.sources) if estimate else [],
        "remark": named.remark,
    }


def as_table(assessment: Assessment) -> str:
    """Write every number of a setup for a terminal: value, uncertainty, unit, basis."""
    lines = [f"{assessment.setup}", ""]
    for named in numbers(assessment):
        axle, label = named.name.split(".", 1)[0], named.label
        stock = "stock " if ".stock." in named.name else ""
        head = f"{axle:5}  {stock}{label}"
        lines.append(f"{head:74} {_value(named)}".rstrip())
    return "\n".join(lines)


def _value(named: Named) -> str:
    estimate = named.estimate
    if estimate is None:
        return f"not known{f': {named.remark}' if named.remark else ''}"
    return f"{estimate.value:9.1f} ± {estimate.u:4.1f} {named.unit:2}  {estimate.basis.value}"
