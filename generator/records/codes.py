"""All fault codes with their texts: those of the reader, and those of the rules."""

from difflib import get_close_matches
from functools import cache
from textwrap import fill

from generator.frozen import dataclass
from generator.reading.catalogue import explained, severity_of
from generator.records.checking import rules


@dataclass(frozen=True)
class Code:
    """What one code means, wherever it comes from."""

    code: str
    title: str
    why: str
    mend: str
    source: str
    bad: str
    good: str
    severity: str


@cache
def all_codes() -> tuple[Code, ...]:
    """Give all codes in order: files, quantities and notation, fields, rules."""
    readers = [
        Code(
            each.code, each.title, each.why, each.mend, "", each.bad, each.good,
            severity_of(each.code).value,
        )
        for each in explained().values()
    ]  # fmt: skip
    ruled = [
        Code(
            rule.code, rule.title, rule.why, rule.mend, rule.source,
            rule.bad.strip(), rule.good.strip(), rule.severity.value,
        )
        for rule in rules()
    ]  # fmt: skip
    return tuple(sorted((*readers, *ruled), key=lambda code: code.code))


def explain(code: str) -> Code:
    """Give what a code means. Raises KeyError for a code that does not exist."""
    return {each.code: each for each in all_codes()}[code]


def nearest(code: str) -> list[str]:
    """Give codes that look like the one asked for."""
    return get_close_matches(code, [each.code for each in all_codes()], 3, 0.5)


def as_page(code: str) -> str | None:
    """Write what a code means for a terminal; None for a code that does not exist."""
    found = next((each for each in all_codes() if each.code == code), None)
    if found is None:
        return None
    parts = [f"{found.code}: {found.title}", _wrapped(found.why)]
    if found.source:
        parts.append(f"Source: {found.source}")
    parts.append(_wrapped(f"To mend it: {found.mend}"))
    if found.bad:
        parts.append("This earns it:\n" + _indented(found.bad))
    if found.good:
        parts.append("This does not:\n" + _indented(found.good))
    return "\n\n".join(parts)


def _wrapped(text: str) -> str:
    """Break lines between words alone: short names have hyphens, and are copied."""
    return fill(text, 79, break_on_hyphens=False)


def _indented(text: str) -> str:
    return "\n".join(f"    {line}" for line in text.split("\n"))
