"""What the checks of a car look at: one end, on one side where sides differ, or the whole car."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date

from generator.assessment.corner import at_side
from generator.assessment.finding import Where
from generator.assessment.fit import AxleFit, axle_fit
from generator.frozen import dataclass
from generator.geometry.fastening import Stack
from generator.quantities.estimate import Estimate
from generator.records.axle_sheet import AxleSheet
from generator.records.chassis import Chassis
from generator.records.dimensions import FINE_U, spacer_thickness
from generator.records.fitted import AxleSetup
from generator.records.joint import stack_of
from generator.records.setup import Setup
from generator.records.words import Axle, Side


@dataclass(frozen=True)
class End:
    """One end of a car; `fitted` and `fit` are those of the side. `day` is when it was measured."""

    axle: Axle
    side: Side
    fitted: AxleSetup
    sheet: AxleSheet
    chassis: Chassis
    fit: AxleFit
    day: date

    @property
    def where(self) -> Where:
        """Give the place for findings."""
        return Where(self.axle, self.side)

    def spacer(self) -> Estimate:
        """Give the thickness of all spacers."""
        return spacer_thickness(self.fitted)

    def stack(self) -> Stack | None:
        """Give what stands on the studs, with the spread of calipers; None if not known."""
        known = stack_of(self.fitted, self.sheet)
        if known is None:
            return None
        return Stack(fine(known.protrusion), self.spacer(), fine(known.pad))


@dataclass(frozen=True)
class Car:
    """A setup on its chassis: both ends as they are on the axle."""

    setup: Setup
    chassis: Chassis
    front: End
    rear: End

    def ends(self) -> Iterator[End]:
        """Give each end, and each side of it apart where something differs between sides."""
        for end in (self.front, self.rear):
            if end.fitted.left is None and end.fitted.right is None:
                yield end
            else:
                yield from (_on_side(end, side) for side in (Side.LEFT, Side.RIGHT))


def car(setup: Setup, chassis: Chassis, front: AxleFit, rear: AxleFit) -> Car:
    """Put a car together from its records and where its wheels stand."""
    return Car(
        setup,
        chassis,
        End(Axle.FRONT, Side.BOTH, setup.front, chassis.front, chassis, front, setup.date),
        End(Axle.REAR, Side.BOTH, setup.rear, chassis.rear, chassis, rear, setup.date),
    )


def _on_side(end: End, side: Side) -> End:
    here = at_side(end.fitted, side)
    return replace(end, side=side, fitted=here, fit=axle_fit(end.axle, here, end.sheet))


def fine(length: Estimate) -> Estimate:
    """Give a length the spread of calipers on metal."""
    return replace(length, u=max(length.u, FINE_U))
