"""The one shared computation: everything that follows from one setup on its chassis."""

from collections.abc import Iterator, Sequence
from itertools import islice

from generator.assessment.car import car
from generator.assessment.clearances import Clearance, Mounted, Sight, sights
from generator.assessment.corner import at_side, standing
from generator.assessment.finding import Finding
from generator.assessment.fit import AxleFit, Fit, axle_fit, stock_fit
from generator.assessment.hazards import findings
from generator.assessment.measuring import measured
from generator.frozen import dataclass
from generator.records.axle_sheet import AxleSheet
from generator.records.chassis import Chassis
from generator.records.fitted import AxleSetup
from generator.records.library import Case
from generator.records.words import Axle, Location, Side, SuspensionKind


@dataclass(frozen=True)
class AxleAssessment:
    """All results of one end of the car.

    `clearances` has one entry for each site and side; the side is both where the sides are alike.
    """

    axle: Axle
    fit: AxleFit
    clearances: tuple[Clearance, ...]

    def clearance(self, site: str, side: Side) -> Clearance | None:
        """Give the clearance of a site on a side; for both, the side with less."""
        found = [each for each in self.clearances if each.site.name == site]
        if side is not Side.BOTH:
            found = [each for each in found if each.side in (side, Side.BOTH)]
        return min(found, key=_how_little, default=None)


def _how_little(clearance: Clearance) -> float:
    """Order clearances by least gap; an unknown one comes before all known ones."""
    return clearance.least.gap.value if clearance.least else float("-inf")


@dataclass(frozen=True)
class Assessment:
    """All results of one setup. Pages, commands and drawings show these objects and no others."""

    setup: str
    front: AxleAssessment
    rear: AxleAssessment
    findings: tuple[Finding, ...]

    def axles(self) -> tuple[AxleAssessment, AxleAssessment]:
        """Give front and rear."""
        return (self.front, self.rear)


def assess(case: Case) -> Assessment:
    """Compute everything that follows from one setup. Raises ValueError without a chassis sheet."""
    if case.chassis is None:
        raise ValueError(f"{case.setup.id} has no chassis sheet")
    setup, chassis = case.setup.value, case.chassis.value
    ends = ((Axle.FRONT, setup.front), (Axle.REAR, setup.rear))
    front, rear = _axle_assessments(ends, chassis)
    found = findings(car(setup, chassis, front.fit, rear.fit))
    return Assessment(case.setup.id, front, rear, found)


def axle_assessment(axle: Axle, setup: AxleSetup, chassis: Chassis) -> AxleAssessment:
    """Compute everything of one end of a car."""
    return _axle_assessments(((axle, setup),), chassis)[0]


def _axle_assessments(
    ends: Sequence[tuple[Axle, AxleSetup]], chassis: Chassis
) -> tuple[AxleAssessment, ...]:
    """Look at ends of a car together, since the gaps of all sites are found in one go."""
    fits = [axle_fit(axle, setup, _sheet(chassis, axle)) for axle, setup in ends]
    seen = [[*axle_sights(fit, setup, chassis)] for fit, (_, setup) in zip(fits, ends, strict=True)]
    found = iter(measured([each for some in seen for each in some]))
    return tuple(
        AxleAssessment(fit.axle, fit, tuple(islice(found, len(some))))
        for fit, some in zip(fits, seen, strict=True)
    )


def axle_sights(fit: AxleFit, setup: AxleSetup, chassis: Chassis) -> Iterator[Sight | Clearance]:
    """Give all sites of one end on each side that has to be looked at apart."""
    for side, mounted in mounted_by_side(fit, setup, _sheet(chassis, fit.axle)):
        yield from sights(chassis, fit.axle, side, mounted=mounted, stock=fit.stock)


def _sheet(chassis: Chassis, axle: Axle) -> AxleSheet:
    return chassis.front if axle is Axle.FRONT else chassis.rear


def mounted_by_side(
    fit: AxleFit, setup: AxleSetup, sheet: AxleSheet
) -> Iterator[tuple[Side, Mounted]]:
    """Give the wheel as it stands on each side that has to be looked at apart."""
    for side in sides(setup, sheet):
        here = at_side(setup, side)
        placed = fit.fitted if here is setup else axle_fit(fit.axle, here, sheet).fitted
        yield side, _mounted(here, sheet, placed)


def _mounted(setup: AxleSetup, sheet: AxleSheet, fit: Fit) -> Mounted:
    return Mounted(
        fit=fit,
        rim=setup.wheel.size,
        face_moved=setup.face_moved.value if setup.face_moved else 0.0,
        standing=standing(setup, sheet),
        bodywork=setup.bodywork,
    )


def sides(setup: AxleSetup | None, sheet: AxleSheet) -> tuple[Side, ...]:
    """Give the sides that have to be looked at apart: both at once where they are alike."""
    suspension = sheet.suspension
    on_rod = suspension.kind is SuspensionKind.LIVE_AXLE and suspension.location is Location.PANHARD
    differ = setup is not None and (setup.left is not None or setup.right is not None)
    return (Side.LEFT, Side.RIGHT) if on_rod or differ else (Side.BOTH,)


def stock_clearances(chassis: Chassis, axle: Axle) -> tuple[Clearance, ...]:
    """Compute the gaps of the stock wheel and tyre at one end of a car."""
    sheet = chassis.front if axle is Axle.FRONT else chassis.rear
    fit = stock_fit(sheet)
    mounted = Mounted(fit=fit, rim=sheet.stock_wheel.size)
    return measured(
        [
            each
            for side in sides(None, sheet)
            for each in sights(chassis, axle, side, mounted=mounted, stock=fit)
        ]
    )
