"""What a page asks to have drawn: the objects, not their coordinates.

A view puts one of these into its context. The template hands it to `drawing(name, subject)`,
where the module `rendering/diagrams/<name>.py` turns it into coordinates for
`templates/diagrams/<name>.svg`; or to `chart(subject)`, which is drawn in rendering/charts.py. So
views know nothing of drawing, and drawings compute nothing of the fit: all lengths come from the
assessment.
"""

from dataclasses import dataclass

from generator.assessment.fit import AxleFit
from generator.quantities.units import Inch, Mm
from generator.records.axle_sheet import AxleSheet
from generator.records.fitted import AxleSetup
from generator.records.setup import Gap
from generator.records.site_sheet import SiteSheet


@dataclass(frozen=True)
class SectionSubject:
    """One end of a car, for the section through its left hub.

    `gaps` are the record's gaps with the car standing. Without `setup` the stock wheel is drawn.
    """

    id: str
    fit: AxleFit
    sheet: AxleSheet
    setup: AxleSetup | None
    sites: tuple[SiteSheet, ...]
    gaps: tuple[Gap, ...] = ()


@dataclass(frozen=True)
class SignsSubject:
    """The drawing that explains lengths and signs; it has no numbers of its own."""

    id: str


@dataclass(frozen=True)
class ChartPoint:
    """One setup in a chart: the number it is labelled by, its wheel, and how it ended."""

    number: int
    width: Inch
    effective_offset: Mm
    outcome: str


@dataclass(frozen=True)
class OffsetChart:
    """Width of the wheel against its effective offset, all setups of one end of one chassis."""

    id: str
    title: str
    stock_width: Inch
    stock_offset: Mm
    points: tuple[ChartPoint, ...]
