"""An invented car's sheet against the model: consistency of invented data, not a published check.

The sheet's gaps were worked by hand-made arithmetic on a coarse grid of travel and steer, for a
tyre that is a rounded rectangle in section; they are rounded to 1 mm and 1 deg. The static gaps and
those at the stated pose must come out; a finer sweep may only find a smaller least gap.
"""

import numpy as np
import pytest

from generator.geometry.axle import AxleCorner, RigidAxle, Side, rod_across
from generator.geometry.frames import in_wheel, positions
from generator.geometry.sampling import sampled
from generator.geometry.shapes import Arc, Attachment, Block, Extent, Ramp, poses_against
from generator.geometry.steering_axis import SteeringAxis
from generator.geometry.suspension import Curves, IndependentCorner, TravelCurve
from generator.geometry.sweep import swept
from generator.geometry.travel import Articulation, Locks, MotionRange, TravelLimits

CENTRE, HALF_WIDTH, RADIUS, ROUNDING = -24.0, 100.5, 304.5, 28.0
BODY, ARM, STRUT, AXLE = Attachment.BODY, Attachment.ARM, Attachment.STRUT, Attachment.AXLE

FRONT = IndependentCorner(
    Curves(camber=TravelCurve((-0.013,)), lateral=TravelCurve((0.02,))),
    SteeringAxis(11.8, 3.9, 96.4),
)
FRONT_RANGE = MotionRange(TravelLimits(84.0, 76.0), Locks(37.5, 32.0))
ROD = rod_across(1015.0, body_height=46.0, axle_height=4.0, body_side=Side.LEFT)
REAR = tuple(AxleCorner(RigidAxle(1428.0, ROD), side) for side in Side)
REAR_RANGE = MotionRange(TravelLimits(85.0, 90.0), articulation=Articulation(70.0, 60.0))

LIP = Arc(4, 8, 366, 15, 165, 92)
TUBE = Block(Extent(-25, 25), Ramp(-139, -154), Ramp(200, 300))
APRON = Block(Extent(-200, 200), -244, Ramp(255, 330))
ROD_AHEAD = Block(Ramp(45, 345), Ramp(-205, -346), Ramp(-118, -84))
REAR_LIP = Arc(0, -2, 352, 20, 160, 103)
NECK = Block(Extent(-190, -120), -176, Ramp(322, 352))
# name, carrier, shape, static gap, least gap, travel and steer (or other travel) of the least one
FRONT_SITES = (
    ("fender lip", BODY, LIP, 70, 10, 84, 10),
    ("liner, front", BODY, Block(358, Extent(-140, 70), Extent(-90, 120)), 54, 19, -56, -32),
    ("bumper tab", BODY, Block(338, Extent(20, 88), Extent(-70, -40)), 36, 20, -56, -6),
    ("pinch weld", BODY, Block(-352, Extent(-140, 80), Extent(-150, 60)), 48, 13, 64, 30),
    ("frame rail", BODY, Block(Extent(-215, 180), -314, Ramp(-40, 60)), 190, 24, -16, 38),
    ("strut tube", STRUT, TUBE, 14, 14, 0, 0),
    ("perch", STRUT, Block(Extent(-70, 70), Ramp(-190, -104), 322), 18, 18, 0, 0),
    ("radius rod", ARM, ROD_AHEAD, 80, 24, -76, -32),
    ("bar end", BODY, Block(Extent(235, 265), -296, Ramp(-70, -40)), 172, 26, -76, -32),
    ("brake hose", STRUT, Block(Extent(-95, -70), -146, Ramp(110, 180)), 22, 22, 0, 0),
    ("apron", BODY, APRON, 120, 25, 44, 38),
)
REAR_SITES = (
    ("quarter lip", BODY, REAR_LIP, 63, 26, 85, 85),
    ("wheelhouse", BODY, Block(Extent(-230, 230), -172, Extent(150, 330)), 48, 22, 70, -60),
    ("frame rail", BODY, Block(Extent(-320, 320), -196, Extent(60, 140)), 72, 63, 70, -60),
    ("coil spring", AXLE, Block(Extent(-55, 55), -152, Extent(40, 190)), 28, 28, 70, -60),
    ("stop bracket", BODY, Block(Extent(40, 95), -170, Extent(150, 190)), 46, 33, 70, -60),
    ("tailpipe", BODY, Block(Extent(-330, -200), -185, Extent(60, 130)), 60, 53, -90, -90),
    ("filler neck", BODY, NECK, 76, 28, 70, -60),
)


def gap_to_rounded_rectangle(points):
    radius = np.hypot(points[..., 0], points[..., 2])
    out = np.abs(points[..., 1] - CENTRE) - (HALF_WIDTH - ROUNDING)
    up = radius - (RADIUS - ROUNDING)
    outside = np.hypot(np.maximum(out, 0.0), np.maximum(up, 0.0))
    return outside + np.minimum(np.maximum(out, up), 0.0) - ROUNDING


def least(corners, carrier, shape, at):
    points = sampled(shape, 0.5).points
    return min(
        gap_to_rounded_rectangle(in_wheel(poses_against(corner.poses(at), carrier), points)).min()
        for corner in corners
    )


def sites(table):
    return pytest.mark.parametrize("site", table, ids=[site[0] for site in table])


@sites(FRONT_SITES)
def test_front_gaps_of_the_sheet_come_out(site):
    _, carrier, shape, static, stated, travel, steer = site
    assert static == pytest.approx(least([FRONT], carrier, shape, positions(0.0)), abs=0.8)
    near = positions(float(travel), np.clip(steer + np.linspace(-0.6, 0.6, 13), -32.0, 37.5))
    # Of the apron the sheet looked at its corners only; the nearest place lies between them.
    points = sampled(Block(-200, -244, 255) if shape is APRON else shape, 0.5).points
    seen = in_wheel(poses_against(FRONT.poses(near), carrier), points)
    gaps = gap_to_rounded_rectangle(seen).min(axis=1)
    assert gaps.min() - 1.0 <= stated <= gaps.max() + 1.0
    assert least([FRONT], carrier, shape, swept(FRONT_RANGE)) <= stated + 0.8


@sites(REAR_SITES)
def test_rear_gaps_of_the_sheet_come_out(site):
    _, carrier, shape, static, stated, travel, other = site
    assert static == pytest.approx(least(REAR, carrier, shape, positions(0.0)), abs=0.8)
    at = positions(float(travel), other_travel=float(other))
    assert stated == pytest.approx(least(REAR, carrier, shape, at), abs=1.5)
    assert least(REAR, carrier, shape, swept(REAR_RANGE)) <= stated + 0.8
