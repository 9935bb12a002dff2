"""The schema of what `gapbook try --json` writes."""

SCHEMA_VERSION = 1

_TEXT: dict[str, object] = {"type": "string"}
_CHANCE: dict[str, object] = {
    "type": ["number", "null"],
    "minimum": 0,
    "maximum": 1,
    "description": "null is not known",
}
_WORD: dict[str, object] = {"enum": ["clears", "tight", "touches", "not known"]}
_SIDE: dict[str, object] = {"enum": ["left", "right", "both"]}
_AXLE: dict[str, object] = {"enum": ["front", "rear"]}
_TEXTS: dict[str, object] = {"type": "array", "items": _TEXT}


def _group(properties: dict[str, object]) -> dict[str, object]:
    return {
        "type": "object",
        "required": list(properties),
        "additionalProperties": False,
        "properties": properties,
    }


def _list(properties: dict[str, object]) -> dict[str, object]:
    return {"type": "array", "items": _group(properties)}


_MM: dict[str, object] = {"type": ["number", "null"], "description": "mm; null is not known"}
_SITE: dict[str, object] = {
    "site": _TEXT,
    "label": _TEXT,
    "side": {"enum": ["left", "right"]},
    "condition": _TEXT,
    "word": _WORD,
    "wanted": {"type": "number", "description": "mm"},
    "chance": _CHANCE,
    "chance_of_any_gap": _CHANCE,
    "computed": _MM,
    "gap": {
        "type": ["array", "null"],
        "items": {"type": "number"},
        "minItems": 3,
        "maxItems": 3,
        "description": "mm: the 5, 50 and 95 % points of the next car's gap",
    },
    "pose": _TEXT,
    "rests_on": _TEXT,
    "refused": {"type": "string", "description": "why there is no chance; empty if there is"},
}
_FINDING: dict[str, object] = {
    "code": _TEXT,
    "hazard": _TEXT,
    "axle": {"enum": ["front", "rear", None]},
    "side": _SIDE,
    "outcome": {"enum": ["holds", "too close to say", "fails", "not known", "for information"]},
    "sentence": _TEXT,
    "follows": _TEXT,
    "source": _TEXT,
}
_REMEDY: dict[str, object] = {
    "steps": _list({"kind": _TEXT, "words": _TEXT, "costs": _TEXT}),
    "word": _WORD,
    "chance": _CHANCE,
    "mends": _TEXTS,
    "spoils": _list({"label": _TEXT, "side": _SIDE, "before": _WORD, "after": _WORD}),
    "findings": _list(_FINDING),
}

SCHEMA: dict[str, object] = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "title": "gapbook try",
    **_group(
        {
            "version": {"const": SCHEMA_VERSION},
            "chassis": _TEXT,
            "from": _TEXT,
            "chance": _CHANCE,
            "refused": _TEXTS,
            "axles": _list(
                {
                    "axle": _AXLE,
                    "fitted": _TEXT,
                    "word": _WORD,
                    "chance_of_known_sites": _CHANCE,
                    "sites": _list(_SITE),
                }
            ),
            "findings": _list(_FINDING),
            "remedies": _list(
                {
                    "axle": _AXLE,
                    "site": _TEXT,
                    "word": _WORD,
                    "told": _TEXT,
                    "remedies": _list(_REMEDY),
                }
            ),
            "worth_measuring": _list(
                {
                    "axle": _AXLE,
                    "site": _TEXT,
                    "side": _SIDE,
                    "state": _TEXT,
                    "tool": _TEXT,
                    "worth": {"type": "number", "minimum": 0, "description": "bits"},
                    "why": _TEXT,
                }
            ),
            "caution": _TEXT,
        }
    ),
}
