"""The one shared computation: everything that follows from one setup on its chassis."""

from dataclasses import dataclass

from generator.assessment.fit import AxleFit, axle_fit
from generator.records.library import Case
from generator.records.words import Axle


@dataclass(frozen=True)
class Assessment:
    """All results of one setup. Pages, commands and drawings show these objects and no others."""

    setup: str
    front: AxleFit
    rear: AxleFit

    def axles(self) -> tuple[AxleFit, AxleFit]:
        """Give front and rear."""
        return (self.front, self.rear)


def assess(case: Case) -> Assessment:
    """Compute everything that follows from one setup. Raises ValueError without a chassis sheet."""
    if case.chassis is None:
        raise ValueError(f"{case.setup.id} has no chassis sheet")
    setup, sheet = case.setup.value, case.chassis.value
    return Assessment(
        case.setup.id,
        axle_fit(Axle.FRONT, setup.front, sheet.front),
        axle_fit(Axle.REAR, setup.rear, sheet.rear),
    )
