"""Every computed number of one setup, by name: what `gapbook assess` shows and exports."""

from collections.abc import Iterator

from generator.assessment.assess import Assessment, AxleAssessment
from generator.assessment.clearances import Clearance, Curve
from generator.assessment.fit import Fit
from generator.frozen import dataclass
from generator.geometry.travel import State
from generator.quantities.estimate import Estimate
from generator.records.words import Axle


@dataclass(frozen=True)
class Named:
    """One number: its name (stable, for programs), its label (for people), unit and estimate."""

    name: str
    label: str
    unit: str
    estimate: Estimate | None
    remark: str = ""


@dataclass(frozen=True)
class NamedCurve:
    """The gap of one site on one side along travel or along steer."""

    axle: Axle
    clearance: Clearance
    by: str
    curve: Curve


def curves(assessment: Assessment) -> tuple[NamedCurve, ...]:
    """Give how gaps run through travel and through steer, of sites that the wheel moves against."""
    return tuple(
        NamedCurve(axle.axle, clearance, by, curve)
        for axle in assessment.axles()
        for clearance in axle.clearances
        for by, curve in (("travel", clearance.by_travel), ("steer", clearance.by_steer))
        if curve is not None
    )


def numbers(assessment: Assessment) -> tuple[Named, ...]:
    """Give every computed number of a setup, in reading order. None is not known."""
    return tuple(each for axle in assessment.axles() for each in _of_axle(axle))


def _of_axle(axle: AxleAssessment) -> Iterator[Named]:
    where = axle.axle.value
    yield from _of_fit(f"{where}.fitted", axle.fit.fitted)
    yield from _of_fit(f"{where}.stock", axle.fit.stock)
    change = axle.fit.change
    for part, label in (
        ("inner", "tyre's inner face against stock, further inboard positive"),
        ("outer", "tyre's outer face against stock, further outboard positive"),
        ("track", "track against stock"),
    ):
        yield Named(f"{where}.change.{part}", label, "mm", getattr(change, part, None))
    rolling = axle.fit.rolling
    for part, label, unit in (
        ("loaded_radius", "loaded radius", "mm"),
        ("circumference", "rolling circumference", "mm"),
        ("true_speed_change", "true speed at the same reading", "%"),
        ("engine_speed_change", "engine speed at the same speed", "%"),
    ):
        yield Named(f"{where}.rolling.{part}", label, unit, getattr(rolling, part, None))
    for clearance in axle.clearances:
        yield from _of_clearance(where, clearance)


def _of_fit(where: str, fit: Fit) -> Iterator[Named]:
    wheel = fit.wheel
    for part, label in (
        ("offset", "offset"),
        ("effective_offset", "effective offset, spacer counted"),
        ("backspacing", "backspacing"),
        ("front_spacing", "front spacing"),
        ("overall_width", "overall width"),
        ("inboard_lip", "inboard lip from the hub face, outboard positive"),
        ("outboard_lip", "outboard lip from the hub face, outboard positive"),
        ("closure", "backspacing measured less backspacing from offset"),
    ):
        yield Named(f"{where}.wheel.{part}", label, "mm", getattr(wheel, part, None))
    for part, label in (("section_width", "section width"), ("diameter", "diameter")):
        yield Named(f"{where}.tyre.{part}", label, "mm", getattr(fit.tyre, part, None))
    for part, label in (
        ("inboard", "tyre's inboard face from the hub face, outboard positive"),
        ("outboard", "tyre's outboard face from the hub face, outboard positive"),
    ):
        yield Named(f"{where}.tyre.{part}", label, "mm", getattr(fit.faces, part, None))
    yield Named(f"{where}.tyre.skin", "tyre beyond the body's skin", "mm", fit.skin)


def _of_clearance(where: str, clearance: Clearance) -> Iterator[Named]:
    name = f"{where}.{clearance.side.value}.{clearance.site.name}"
    label = clearance.site.label
    if clearance.side.value != "both":
        label = f"{label}, {clearance.side.value}"
    yield Named(f"{name}.static", f"{label}: standing", "mm", clearance.static, clearance.unknown)
    least = clearance.least
    words = f"{label}: least" + (f", {least.words}" if least else "")
    yield Named(f"{name}.least", words, "mm", least.gap if least else None, clearance.unknown)
    for state in clearance.states:
        if state.words == State.STATIC.value:
            continue
        slug = state.words.replace(" ", "-").replace(",", "")
        yield Named(f"{name}.{slug}", f"{label}: {state.words}", "mm", state.gap)
