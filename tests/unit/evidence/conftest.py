"""One car with sites whose gaps can be reckoned by hand, and one chassis of the demo club."""

from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

import pytest

from generator.assessment.assess import assess
from generator.evidence.candidate import AxleChange, assess_candidate, like_stock, millimetres
from generator.evidence.club import learn_chassis
from generator.quantities.quantity import read_quantity
from generator.quantities.span import read_gap
from generator.quantities.units import Dimension
from generator.reading.folder import content_files
from generator.records.collect import collect
from generator.records.setup import Gap
from generator.records.site_sheet import Reach, SiteSheet
from generator.records.words import Attachment, Axle, Facing, Side, State

ROOT = Path(__file__).resolve().parents[3]
TODAY = date(2026, 1, 1)
STOCK_GAP = 14.0
# Half the section height above the bead seat of the Meridel's stock tyre, (609 + 354.8)/4: there
# the tyre is widest, so that a gap beside it changes millimetre by millimetre with the wheel.
WIDEST = "240.95 mm"


def length(text):
    return read_quantity(text, Dimension.LENGTH)


@pytest.fixture(scope="session")
def library():
    """The demo club, of one chassis alone."""
    files, _ = content_files(ROOT / "content_demo")
    wanted = ("club.yaml", "chassis/ostvane-meridel.yaml")
    near = [f for f in files if f.path in wanted or f.path.startswith("setups/ostvane-meridel/")]
    return collect(near).library


@pytest.fixture(scope="session")
def meridel(library):
    return library.chassis["ostvane-meridel"]


@pytest.fixture(scope="session")
def assessments(library):
    return {case.setup.id: assess(case) for case in library.cases()}


@pytest.fixture(scope="session")
def evidence(library, meridel, assessments):
    setups = {setup.id: setup for setup in library.of_chassis(meridel.id)}
    return learn_chassis(
        meridel, {name: (setup, assessments[name]) for name, setup in setups.items()}
    )


def side_site(name="post", axle=Axle.FRONT, facing=Facing.INBOARD, **said):
    """A site that goes with the wheel, 14 mm beside the widest point of the stock tyre."""
    return SiteSheet.model_construct(
        name=name,
        label=name,
        axle=axle,
        facing=facing,
        moves_with=Attachment.KNUCKLE,
        reach=Reach.model_construct(radius=length(WIDEST), stock_gap=length("14 mm")),
        wanted=length("5 mm"),
        spread=length("3 mm"),
        **said,
    )


def gap(said, side=Side.LEFT, tool=None, site="post", state=State.STATIC):
    return Gap.model_construct(
        site=site, axle=None, side=side, state=state, gap=read_gap(said), tool=tool
    )


@dataclass(frozen=True)
class Bench:
    """The Meridel with sites of our own; setups are stock but for what is said."""

    chassis: object

    def with_sites(self, *sites):
        value = self.chassis.value.model_copy(update={"sites": sites})
        return Bench(replace(self.chassis, value=value))

    def candidate(self, spacer=0.0):
        stock = like_stock(self.chassis, day=TODAY)
        if not spacer:
            return stock
        return stock.changed(Axle.FRONT, AxleChange(spacer=millimetres(spacer)))

    def setup(self, *gaps, spacer=0.0, name="first", car="a-car", member="Alder", **said):
        filed = self.candidate(spacer).setup
        update = {"gaps": gaps, "car": car, "member": member, **said}
        value = filed.value.model_copy(update=update)
        return replace(filed, id=f"{self.chassis.id}/{name}", value=value)

    def assessed(self, filed):
        return assess_candidate(replace(self.candidate(), setup=filed))

    def learn(self, *setups):
        known = {filed.id: (filed, self.assessed(filed)) for filed in setups}
        return learn_chassis(self.chassis, known)


@pytest.fixture(scope="session")
def bench(meridel):
    """The front post alone; the wheel stands 14 mm from it with stock wheels."""
    return Bench(meridel).with_sites(side_site())


@pytest.fixture(scope="session")
def make_gap():
    return gap


@pytest.fixture(scope="session")
def make_site():
    return side_site
