"""One changed file in words and numbers."""

from generator.rendering.filters import inch, mm
from generator.review.compared import Compared, said
from generator.review.escaping import cell, code, words
from generator.review.fields import FieldChange, both_units
from generator.review.figures import both, number
from generator.review.review import FileChange, NumberChange
from generator.review.tables import bullets, table

_MOST_FIELDS = 40
_MOST_NUMBERS = 40
_MOST_NEW = 20
_MOST_GAPS = 12
_MOST_ASKS = 8
_POSITIONS = (
    "effective offset, spacer counted",
    "backspacing",
    "section width",
    "tyre's inner face against stock, further inboard positive",
    "tyre's outer face against stock, further outboard positive",
    "track against stock",
)
"""Of a new record these come first: by them a reviewer sees a slip."""


def heading(change: FileChange) -> str:
    """Name a file and what happened to it."""
    title = f": {code(change.title)}" if change.title else ""
    return f"### {code(change.path)} is {change.kind}{title}"


def file_section(change: FileChange) -> str:
    """Write what a file's change says and means."""
    parts = [
        _standing(change), _asks(change), _compared(change), _fields(change), _computed(change),
    ]  # fmt: skip
    return "\n\n".join(part for part in parts if part)


def _standing(change: FileChange) -> str:
    if change.flag is None and not change.word:
        return ""
    flag = f"Flag: {change.flag.value}." if change.flag else ""
    verdict = f" Verdict on the next car: {change.word}." if change.word else ""
    return (flag + verdict).strip()


def _fields(change: FileChange) -> str:
    if not change.fields:
        return ""
    rows = [_field(each) for each in change.fields[:_MOST_FIELDS]]
    return table(("field", "was", "is now"), rows, len(change.fields))


def _field(change: FieldChange) -> tuple[str, str, str]:
    def told(text: str | None) -> str:
        return "(not there)" if text is None else cell(both_units(text))

    return (cell(change.where), told(change.old), told(change.new))


def _compared(change: FileChange) -> str:
    if not change.compared:
        return ""
    rows = [_gap(each) for each in change.compared[:_MOST_GAPS]]
    head = ("gap", "reported", "the others expect", "so it is")
    return table(head, rows, len(change.compared))


def _gap(gap: Compared) -> tuple[str, str, str, str]:
    where = f"{gap.axle} {cell(gap.label)} {gap.side}, {words(gap.pose)}"
    expected = f"{mm(gap.expected_low, 0)} to {mm(gap.expected_high, 0)}"
    inches = f"{inch(gap.expected_low, 0)} to {inch(gap.expected_high, 0)}"
    word = "as expected" if gap.is_expected else "outside"
    return (
        where,
        said(gap, both),
        f"{expected} ({inches})",
        "**doubtful**" if gap.is_doubtful else word,
    )


def _computed(change: FileChange) -> str:
    if not change.computed:
        return ""
    is_new = change.kind == "new"
    known = [each for each in change.computed if not is_new or each.new is not None]
    ordered = sorted(known, key=_news if is_new else lambda _: 0)
    ordered = ordered[: _MOST_NEW if is_new else _MOST_NUMBERS]
    if is_new:
        rows = [(words(each.label), number(each.new, each.unit)) for each in ordered]
        return table(("computed", "value"), rows, len(known))
    changed = [
        (words(each.label), number(each.old, each.unit), number(each.new, each.unit))
        for each in ordered
    ]
    return table(("computed", "was", "is now"), changed, len(known))


def _news(change: NumberChange) -> int:
    """Put positions first, then least gaps, then the rest."""
    label = change.label.partition(": ")[2]
    if label in _POSITIONS:
        return _POSITIONS.index(label)
    return len(_POSITIONS) + (": least" not in label)


def _asks(change: FileChange) -> str:
    if not change.asks:
        return ""
    rows = [words(each) for each in change.asks[:_MOST_ASKS]]
    return f"Ask the member:\n\n{bullets(rows, len(change.asks))}"
