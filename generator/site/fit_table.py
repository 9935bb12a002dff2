"""Computed positions for pages: fitted beside stock, what changed, and what rolls differently."""

from collections.abc import Iterator

from generator.assessment.fit import AxleFit, Fit, Rolling
from generator.frozen import dataclass
from generator.geometry.wheel import PositionChange
from generator.quantities.estimate import Estimate
from generator.site.facts import Fact, Shown, estimated, percent

_WHEEL = (
    ("offset", "offset", "offset", True),
    ("effective_offset", "effective offset", "offset less spacer", True),
    ("backspacing", "backspacing", "mounting face to the inboard lip", False),
    ("front_spacing", "front spacing", "mounting face to the outboard lip", False),
    ("overall_width", "overall width", "lip to lip", False),
    ("inboard_lip", "inboard lip", "from the hub face, outboard positive", True),
    ("outboard_lip", "outboard lip", "from the hub face, outboard positive", True),
)
_TYRE = (
    ("section_width", "tyre section width", "on this rim"),
    ("diameter", "tyre diameter", "not loaded"),
)
_FACES = (
    ("inboard", "tyre's inboard face", "from the hub face, outboard positive"),
    ("outboard", "tyre's outboard face", "from the hub face, outboard positive"),
)


@dataclass(frozen=True)
class PositionRow:
    """One computed length, fitted and stock."""

    label: str
    meaning: str
    fitted: Shown
    stock: Shown


def position_rows(fit: AxleFit) -> tuple[PositionRow, ...]:
    """Give where wheel and tyre stand, fitted and stock."""
    return tuple(_rows(fit.fitted, fit.stock))


def _rows(fitted: Fit, stock: Fit) -> Iterator[PositionRow]:
    for name, label, meaning, is_signed in _WHEEL:
        pair = (_part(fitted.wheel, name), _part(stock.wheel, name))
        yield _row(label, meaning, pair, is_signed=is_signed)
    for name, label, meaning in _TYRE:
        pair = (_part(fitted.tyre, name), _part(stock.tyre, name))
        yield _row(label, meaning, pair, is_signed=False)
    for name, label, meaning in _FACES:
        pair = (_part(fitted.faces, name), _part(stock.faces, name))
        yield _row(label, meaning, pair, is_signed=True)
    meaning = "tyre beyond the body's widest skin; minus is inside it"
    yield _row("poke", meaning, (fitted.skin, stock.skin), is_signed=True)


def _part(whole: object, name: str) -> Estimate | None:
    found = getattr(whole, name, None)
    return found if isinstance(found, Estimate) else None


def _row(
    label: str, meaning: str, pair: tuple[Estimate | None, Estimate | None], *, is_signed: bool
) -> PositionRow:
    fitted, stock = (estimated(each, is_signed=is_signed) for each in pair)
    return PositionRow(label, meaning, fitted, stock)


def change_facts(change: PositionChange | None) -> tuple[Fact, ...]:
    """Give how far the tyre's faces and the track moved against stock."""
    inner = estimated(change.inner if change else None, is_signed=True)
    outer = estimated(change.outer if change else None, is_signed=True)
    track = estimated(change.track if change else None, is_signed=True)
    return (
        Fact("inner face against stock", inner, "plus is further inboard"),
        Fact("outer face against stock", outer, "plus is further outboard"),
        Fact("track against stock", track),
    )


def rolling_facts(rolling: Rolling | None) -> tuple[Fact, ...]:
    """Give what another diameter does to gearing and instruments."""
    return (
        Fact("loaded radius", estimated(rolling.loaded_radius if rolling else None)),
        Fact("rolling circumference", estimated(rolling.circumference if rolling else None)),
        Fact(
            "true speed at the same reading",
            percent(rolling.true_speed_change if rolling else None),
            "plus: the car is faster than before at the same reading",
        ),
        Fact(
            "engine speed at the same true speed",
            percent(rolling.engine_speed_change if rolling else None),
        ),
    )
