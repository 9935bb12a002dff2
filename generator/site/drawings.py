"""What a page asks to have drawn: the objects, not their coordinates.

A view puts one of these into its context. The template hands it to `drawing(name, subject)`,
where the module `rendering/diagrams/<name>.py` turns it into coordinates for
`templates/diagrams/<name>.svg`; or to `chart(subject)`, which is drawn in rendering/charts.py. So
views know nothing of drawing, and drawings compute nothing of the fit: all lengths come from the
assessment.
"""

from generator.assessment.clearances import Clearance
from generator.assessment.fit import AxleFit
from generator.assessment.plan_view import PlanView
from generator.evidence.window import OffsetWindow
from generator.frozen import dataclass
from generator.quantities.span import GapReading
from generator.quantities.units import Inch, Mm
from generator.records.axle_sheet import AxleSheet
from generator.records.fitted import AxleSetup
from generator.records.site_sheet import SiteSheet


@dataclass(frozen=True)
class SiteFound:
    """What a record says of a site at the left wheel.

    `gap` is that with the car standing, `word` what may be said of it; `of_site` is the word for
    the site in all positions, empty where there is none to be drawn.
    """

    site: str
    gap: GapReading | None
    word: str
    of_site: str


@dataclass(frozen=True)
class SectionSubject:
    """One end of a car, for the section through its left hub.

    `found` is what the record says of the sites; `differs` says what is not alike at the right.
    Without `setup` the stock wheel is drawn.
    """

    id: str
    fit: AxleFit
    sheet: AxleSheet
    setup: AxleSetup | None
    sites: tuple[SiteSheet, ...]
    found: tuple[SiteFound, ...] = ()
    differs: str = ""


@dataclass(frozen=True)
class SignsSubject:
    """The drawing that explains lengths and signs; it has no numbers of its own."""

    id: str


@dataclass(frozen=True)
class ExampleSubject:
    """A drawing that explains a piece of work; its numbers are an example of its own."""

    id: str


@dataclass(frozen=True)
class PlanSubject:
    """The left corner of a steered end from above, at both locks.

    Its gaps are called tight or touching where `is_judged`.
    """

    id: str
    axle: str
    view: PlanView
    is_judged: bool = True


@dataclass(frozen=True)
class CurvesSubject:
    """The tightest sites of one end, the tightest first, each with its gap through the motion.

    Their gaps are called tight or touching where `is_judged`.
    """

    id: str
    axle: str
    sites: tuple[Clearance, ...]
    is_judged: bool = True


@dataclass(frozen=True)
class WindowSubject:
    """Wheel width against effective offset: what clears, and the setups of the club as points.

    stock: what is said of the stock wheel, a sentence.
    """

    id: str
    window: OffsetWindow
    points: tuple["ChartPoint", ...]
    stock: str = ""


@dataclass(frozen=True)
class ChartPoint:
    """One setup in an offset window: the number it is labelled by, and its wheel."""

    number: int
    width: Inch
    effective_offset: Mm


@dataclass(frozen=True)
class TyrePoint:
    """One tyre in a chart: its number, its rim, and how much wider than its label it is."""

    number: int
    width: Inch
    wider: Mm


@dataclass(frozen=True)
class TyreChart:
    """How much wider measured tyres are than their labels say, against the width of the rim."""

    id: str
    title: str
    points: tuple[TyrePoint, ...]


@dataclass(frozen=True)
class LimitRow:
    """A site and the 5, 50 and 95 % points of the next car's room against the sheet."""

    axle: str
    label: str
    low: Mm
    median: Mm
    high: Mm
    cars: int


@dataclass(frozen=True)
class LimitChart:
    """What the records taught of each site of a chassis; no cars: the sheet alone."""

    id: str
    title: str
    rows: tuple[LimitRow, ...]
