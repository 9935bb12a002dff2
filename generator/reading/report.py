"""Faults as text for people, as JSON and SARIF for programs, as annotations for a forge.

All forms carry the same list. Members' text is escaped in each, so that a record can neither
colour a terminal nor speak to the program that reads the log.
"""

import json
from collections import Counter
from collections.abc import Callable, Iterable
from unicodedata import combining, east_asian_width
from urllib.parse import quote

from generator.reading.fault import Fault, Place, Severity
from generator.reading.text import shown

_LEVELS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "note"}
_COMMANDS = {Severity.ERROR: "error", Severity.WARNING: "warning", Severity.NOTE: "notice"}
_LONGEST_LINE = 120
_UNCUT = 10_000
"""More characters than any part of a fault has."""


def as_text(faults: Iterable[Fault]) -> str:
    """Write faults for people: place, headline, the line with a caret, reason and fix."""
    return "\n\n".join(_one_as_text(fault) for fault in faults)


def _one_as_text(fault: Fault) -> str:
    where = f"{shown(fault.place.path, 200)}:{fault.place.line}:{fault.place.column}"
    lines = [f"{where}: {fault.severity.value}[{fault.code}]: {shown(fault.headline, 200)}"]
    lines += _excerpt(fault.place, fault.expected)
    for mark in fault.also:
        if mark.place.path != fault.place.path:
            lines.append(f"  --> {shown(mark.place.path, 200)}:{mark.place.line}")
        lines += _excerpt(mark.place, mark.label)
    if fault.why:
        lines.append(f"   = why: {shown(fault.why, 400)}")
    if fault.fix:
        lines.append(f"   = fix: {shown(fault.fix, 200)}")
    return "\n".join(lines)


def _excerpt(place: Place, label: str) -> list[str]:
    """Draw the line with a caret under its characters; a long line is cut around them."""
    words = shown(label, 400)
    at = place.column - 1
    if not place.excerpt or at > len(place.excerpt):
        return [f"   = expected: {words}"] if words else []
    line = place.excerpt
    first = max(0, at - _LONGEST_LINE // 2) if len(line) > _LONGEST_LINE else 0
    last = min(first + _LONGEST_LINE, len(line))
    end = max(at, min(place.end_column - 1, last))
    before = "…" * (first > 0) + shown(line[first:at], _UNCUT)
    under = shown(line[at:end], _UNCUT)
    after = shown(line[end:last], _UNCUT) + "…" * (last < len(line))
    number = str(place.line)
    carets = "^" * max(1, _columns(under))
    pointer = f"{' ' * len(number)} | {' ' * _columns(before)}{carets} {words}".rstrip()
    return [f"{number} | {before}{under}{after}", pointer]


def _columns(text: str) -> int:
    """Count the columns of a terminal: wide letters take two, accents on a letter none."""
    if text.isascii():
        return len(text)
    return sum(
        0 if combining(sign) else 2 if east_asian_width(sign) in "WF" else 1 for sign in text
    )


def as_json(faults: Iterable[Fault]) -> str:
    """Write faults as a JSON object with a version and the list."""
    rows = [
        {
            "code": fault.code,
            "severity": fault.severity.value,
            "headline": fault.headline,
            **_place_row(fault.place),
            "expected": fault.expected,
            "why": fault.why,
            "fix": fault.fix,
            "also": [{**_place_row(mark.place), "label": mark.label} for mark in fault.also],
        }
        for fault in faults
    ]
    return json.dumps({"version": 1, "faults": rows}, indent=2, ensure_ascii=True, allow_nan=False)


def _place_row(place: Place) -> dict[str, str | int]:
    return {
        "path": place.path,
        "line": place.line,
        "column": place.column,
        "end_line": place.end_line,
        "end_column": place.end_column,
    }


def as_annotations(faults: Iterable[Fault]) -> str:
    """Write faults as workflow commands; errors first, since a forge shows only a few of each."""
    ordered = sorted(faults, key=lambda fault: (fault.severity.rank, *fault.order))
    return "\n".join(_annotation(fault) for fault in ordered)


def _annotation(fault: Fault) -> str:
    place = fault.place
    parts = [fault.headline, fault.expected and f"expected: {fault.expected}", fault.why]
    parts += [fault.fix and f"fix: {fault.fix}"]
    message = "\n".join(shown(part, 1000) for part in parts if part)
    return (
        f"::{_COMMANDS[fault.severity]} file={_property(place.path)},line={place.line},"
        f"col={place.column},endLine={place.end_line},endColumn={place.end_column},"
        f"title={_property(fault.code)}::{_message(message)}"
    )


def _message(text: str) -> str:
    return text.replace("%", "%25").replace("\r", "%0D").replace("\n", "%0A")


def _property(text: str) -> str:
    return shown(_message(text), 1000).replace(":", "%3A").replace(",", "%2C")


def as_sarif(faults: Iterable[Fault], explain: Callable[[str], tuple[str, str]]) -> str:
    """Write faults in the Static Analysis Results Interchange Format 2.1.0 (OASIS).

    `explain` gives the title and the meaning of a code.
    """
    found = list(faults)
    codes = sorted({fault.code for fault in found})
    rules = []
    for code in codes:
        title, meaning = explain(code)
        rules.append(
            {"id": code, "shortDescription": {"text": title}, "fullDescription": {"text": meaning}}
        )
    driver = {"name": "gapbook", "rules": rules}
    run = {
        "tool": {"driver": driver},
        "columnKind": "unicodeCodePoints",
        "results": [_result(fault, codes) for fault in found],
    }
    log = {
        "$schema": "https://docs.oasis-open.org/sarif/sarif/v2.1.0/os/schemas/sarif-schema-2.1.0.json",
        "version": "2.1.0",
        "runs": [run],
    }
    return json.dumps(log, indent=2, ensure_ascii=True, allow_nan=False)


def _result(fault: Fault, codes: list[str]) -> dict[str, object]:
    words = [fault.headline, fault.expected and f"expected: {fault.expected}", fault.why]
    words += [fault.fix and f"fix: {fault.fix}"]
    return {
        "ruleId": fault.code,
        "ruleIndex": codes.index(fault.code),
        "level": _LEVELS[fault.severity],
        "message": {"text": ". ".join(word for word in words if word)},
        "locations": [_location(fault.place)],
        "relatedLocations": [
            {**_location(mark.place), "message": {"text": mark.label}} for mark in fault.also
        ],
    }


def _location(place: Place) -> dict[str, object]:
    region = {
        "startLine": place.line,
        "startColumn": place.column,
        "endLine": place.end_line,
        "endColumn": max(place.end_column, 1),
    }
    return {
        "physicalLocation": {"artifactLocation": {"uri": quote(place.path)}, "region": region},
    }


def summary(faults: Iterable[Fault], files: int) -> str:
    """Say in one line how many faults of each gravity were found in how many files."""
    counts = Counter(fault.severity for fault in faults)
    parts = [
        f"{counts[severity]} {severity.value}{'' if counts[severity] == 1 else 's'}"
        for severity in Severity
        if counts[severity]
    ]
    told = ", ".join(parts) or "no faults"
    return f"{files} file{'' if files == 1 else 's'} read: {told}"
