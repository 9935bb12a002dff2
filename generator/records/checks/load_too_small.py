"""A tyre or wheel is rated for less than half of the permitted axle load."""

from collections.abc import Iterator

from generator.geometry.loads import axle_load_check, wheel_rating_check
from generator.published import tables
from generator.quantities.tyre_marks import TyreSize
from generator.quantities.units import Kg
from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule, marked

RULE = Rule(
    code="R32",
    title="a tyre or wheel rated too low",
    severity=Severity.ERROR,
    why="Each tyre and each wheel must carry at least half of the axle's permitted load. A tyre "
    "or wheel loaded beyond its rating can fail at speed.",
    mend="Fit a tyre of a higher load index, or a wheel of a higher rating; the vehicle maker's "
    "list and local law may ask for more.",
    source="49 CFR 571.120 S5.1.2; load indices UN R30 annex 4",
    bad="setup: {front: {tyre: {size: 195/60 R15 72V}}}",
    good="setup: {front: {tyre: {size: 195/60 R15 86V}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Hold the ratings at both ends against the sheet's permitted load."""
    for axle, fitted, sheet in case.axles():
        if sheet is None or case.chassis is None:
            continue
        permitted = sheet.permitted_load.value
        half = permitted / 2.0
        also = (marked(case.chassis, "permitted axle load", axle.value, "permitted_load"),)
        rated = _rated(fitted.tyre.size)
        if rated is not None and not axle_load_check(rated, rated, axle_load=permitted).margin >= 0:
            yield RULE.fault(
                case.setup.place(axle.value, "tyre", "size"),
                f"load index {fitted.tyre.size.load_indices[0]} carries {rated:g} kg, "
                f"{half - rated:g} kg less than half the axle's {permitted:g} kg",
                expected=f"a load index for {half:g} kg or more{_index_for(half)}",
                fix="fit a tyre of a higher load index; do not drive on these",
                also=also,
            )
        rating = fitted.wheel.load_rating
        if rating is not None and not wheel_rating_check(rating.value, permitted).margin >= 0:
            yield RULE.fault(
                case.setup.place(axle.value, "wheel", "load_rating"),
                f"the wheel is rated {rating.typed}, {half - rating.value:g} kg less than half the "
                f"axle's {permitted:g} kg",
                expected=f"{half:g} kg or more",
                fix="read the mark on the wheel again; do not drive on wheels rated too low",
                also=also,
            )


def _rated(size: TyreSize) -> Kg | None:
    try:
        return tables.load_capacity(size.load_indices[0]) if size.load_indices else None
    except LookupError:
        return None


def _index_for(load: Kg) -> str:
    for index in range(60, 126):
        if tables.load_capacity(index) >= load:
            return f", {index} or higher"
    return ""
