"""The whole review as JSON, uncut, for programs."""

import json
from dataclasses import fields, is_dataclass
from enum import Enum
from math import isfinite

from generator.review.decision import decision
from generator.review.review import Review

VERSION = 1


def as_json(review: Review) -> str:
    """Write a review as a JSON object; its names are those of the values in this room."""
    told = {"version": VERSION, "changes_numbers": review.changes_numbers}
    document: dict[str, object] = {**told, "decision": _row(decision(review)), **_row(review)}
    return json.dumps(document, indent=2, ensure_ascii=True, allow_nan=False)


def _row(value: object) -> dict[str, object]:
    if not is_dataclass(value):
        raise TypeError(f"{type(value).__name__} has no fields")
    return {each.name: _plain(getattr(value, each.name)) for each in fields(value)}


def _plain(value: object) -> object:
    if isinstance(value, Enum):
        return value.value
    if is_dataclass(value):
        return _row(value)
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    if isinstance(value, float):
        return round(value, 6) if isfinite(value) else None
    return value
