"""An axle that was found off centre stands there, whatever holds it sideways."""

from pathlib import Path

import pytest

from generator.assessment.corner import STOCK, Standing, corner_motion
from generator.geometry.frames import positions
from generator.reading.folder import Found
from generator.records.collect import collect
from generator.records.words import Axle, Location, Side

CHASSIS = Path(__file__).parents[3] / "content_demo" / "chassis"
HELD = {
    "brevanor-hallin": Location.LEAF,
    "quillane-sarrik": Location.WATT,
    "ostvane-meridel": Location.PANHARD,
}


def _standing(name: str, side: Side, changed: Standing) -> float:
    """Give y of the wheel's hub face at rest against the body, mm."""
    text = (CHASSIS / f"{name}.yaml").read_bytes()
    chassis = collect([Found(f"chassis/{name}.yaml", text)]).library.chassis[name].value
    assert chassis.rear.suspension.location is HELD[name]
    motion = corner_motion(chassis, Axle.REAR, side, changed)
    return float(motion.corner.poses(positions(0.0)).body.translation[0, 1])


@pytest.mark.parametrize("name", HELD)
def test_an_axle_off_centre_stands_there_on_every_location(name: str) -> None:
    # By hand: 3 mm to the left of the middle is 3 mm outboard on the left, inboard on the right.
    found = Standing(axle_error=3.0)
    assert _standing(name, Side.LEFT, found) == pytest.approx(3.0, abs=1e-9)
    assert _standing(name, Side.RIGHT, found) == pytest.approx(-3.0, abs=1e-9)


@pytest.mark.parametrize("name", HELD)
def test_an_axle_that_nobody_measured_stands_in_the_middle(name: str) -> None:
    for side in (Side.LEFT, Side.RIGHT):
        assert _standing(name, side, STOCK) == pytest.approx(0.0, abs=1e-9)
