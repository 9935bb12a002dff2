"""Front and rear were written in each other's place."""

from collections.abc import Iterator

from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.stance import Stance, fitted_stance, moved, stock_stance
from generator.records.told import mm
from generator.records.words import Axle

OUT: Mm = 40.0
"""Two ends that are out by this in opposite ways say more than one that is out by the 80 mm at
which a single end is asked about: judgement of the guide."""

RULE = Rule(
    code="R39",
    title="front and rear in each other's place",
    severity=Severity.WARNING,
    why="Both ends stand far from stock, one outboard and one inboard, and each would be near "
    "stock at the other end.",
    mend="Compare with the car, and swap `front` and `rear` if they were confused.",
    source="common practice",
    bad="chassis:\n"
    "  front: {stock_wheel: {offset: 44 mm, backspacing: 133 mm}, track: 1355 mm}\n"
    "  rear: {stock_wheel: {offset: -4 mm, backspacing: 85 mm}, track: 1436 mm}\n"
    "setup:\n"
    "  front: {wheel: {offset: -2 mm, backspacing: 99.5 mm}}\n"
    "  rear: {wheel: {offset: 42 mm, backspacing: 143.5 mm}}\n"
    "  gaps: []\n"
    "  not_checked: [all gaps]",
    good="chassis:\n"
    "  front: {stock_wheel: {offset: 44 mm, backspacing: 133 mm}, track: 1355 mm}\n"
    "  rear: {stock_wheel: {offset: -4 mm, backspacing: 85 mm}, track: 1436 mm}\n"
    "setup:\n"
    "  front: {wheel: {offset: 42 mm, backspacing: 143.5 mm}}\n"
    "  rear: {wheel: {offset: -2 mm, backspacing: 99.5 mm}}\n"
    "  gaps:\n"
    "    - {site: strut-tube, side: both, state: static, gap: not checked}\n"
    "    - {site: fender-lip, side: both, state: full bump, gap: not checked}\n"
    "    - {site: brake-hose, side: both, state: static, gap: not checked}\n"
    "    - {site: quarter-lip, side: both, state: full bump, gap: not checked}\n"
    "    - {site: inner-wheelhouse, side: both, state: full bump, gap: not checked}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare both ends with stock as written and as swapped."""
    if case.chassis is None:
        return
    fitted, stock = [], []
    for _, end, sheet in case.axles():
        here, there = fitted_stance(end), stock_stance(sheet) if sheet else None
        if here is None or there is None:
            return
        fitted.append(here)
        stock.append(there)
    written = [_shift(new, old) for new, old in zip(fitted, stock, strict=True)]
    swapped = [_shift(new, old) for new, old in zip(reversed(fitted), stock, strict=True)]
    opposite = written[0] * written[1] < 0.0
    if not opposite or min(map(abs, written)) <= OUT or max(map(abs, swapped)) >= OUT:
        return
    front, rear = written
    yield RULE.fault(
        case.setup.key_place(Axle.FRONT.value),
        f"the front stands {_way(front)} and the rear {_way(rear)} of stock; swapped, both are "
        f"within {mm(max(map(abs, swapped)))}",
        expected="each end near its stock position",
        fix="swap the names `front:` and `rear:` if they were confused",
        also=(marked(case.setup, "the rear", Axle.REAR.value, "wheel", "size"),),
    )


def _shift(new: Stance, old: Stance) -> Mm:
    """Give how far the tyre's middle moved outboard."""
    change = moved(new, old)
    return (change.outer.value - change.inner.value) / 2.0


def _way(shift: Mm) -> str:
    return f"{mm(abs(shift))} {'outboard' if shift > 0.0 else 'inboard'}"
