"""Torque, clamp load and slip of a bolted wheel.

A clamp load computed here is information about the joint; the torque to use is the vehicle maker's
figure, and nothing here gives one.
"""

from math import pi, radians, sin, sqrt

from generator.frozen import dataclass
from generator.geometry.bound import PRACTICE, Check, at_least, at_most
from generator.geometry.threads import ThreadSizes
from generator.quantities.units import Deg, Mm, Mpa, Newton, NewtonMetre, Ratio

_MM_PER_METRE = 1000.0
_FLANK = 1.0 / sqrt(3.0)  # 1/(2 cos 30°), printed as 0.577
_FLAT_ANGLE = 180.0  # a cone of this included angle is flat
_TOOL_SCATTER = 0.30  # of the preload; [FASTENERDATA], second hand


@dataclass(frozen=True)
class FrictionRange:
    """Nut factors between which a joint's own lies: least and greatest."""

    least: Ratio
    greatest: Ratio


@dataclass(frozen=True)
class Friction:
    """Coefficients of friction in the thread and at the seat."""

    thread: Ratio
    seat: Ratio


@dataclass(frozen=True)
class ClampRange:
    """Clamp loads a torque may give; the ends take worst friction and worst tool together."""

    least: Newton
    greatest: Newton


def torque_for_clamp(clamp: Newton, diameter: Mm, *, nut_factor: Ratio) -> NewtonMetre:
    """Torque that goes with a clamp load, T = K·d·F.

    Model: one factor K for all friction; it scatters widely between joints. All > 0.
    Source: [FASTENERDATA] T = K d F, second hand.
    By hand: 0.20·12 mm·45 kN = 108 N·m.
    >>> round(torque_for_clamp(45000.0, 12.0, nut_factor=0.20), 6)
    108.0
    """
    return nut_factor * diameter * clamp / _MM_PER_METRE


def clamp_from_torque(torque: NewtonMetre, diameter: Mm, *, nut_factor: Ratio) -> Newton:
    """Clamp load that goes with a torque, F = T/(K·d).

    Model: as `torque_for_clamp`. diameter, nut_factor: > 0.
    Source: [FASTENERDATA] T = K d F, second hand.
    By hand: 100 N·m/(0.20·12 mm) = 41.7 kN.
    >>> round(clamp_from_torque(100.0, 12.0, nut_factor=0.20))
    41667
    """
    return torque * _MM_PER_METRE / (nut_factor * diameter)


def nut_factor(torque: NewtonMetre, clamp: Newton, *, diameter: Mm) -> Ratio:
    """Nut factor K that a measured torque and clamp load imply.

    clamp, diameter: > 0.
    Source: [FASTENERDATA] T = K d F, second hand.
    By hand: 110 N·m/(12 mm·31.1 kN) = 0.2947.
    >>> round(nut_factor(110.0, 31100.0, diameter=12.0), 4)
    0.2947
    """
    return torque * _MM_PER_METRE / (clamp * diameter)


def flat_seat_arm(inner_diameter: Mm, outer_diameter: Mm) -> Mm:
    """Lever arm of friction under a flat seat: half the mean bearing diameter.

    0 < inner_diameter < outer_diameter.
    Source: [VDI2230] D_Km/2 with D_Km = (d_w + d_h)/2.
    >>> flat_seat_arm(13.0, 21.0)
    8.5
    """
    return (inner_diameter + outer_diameter) / 4.0


def cone_seat_arm(mean_diameter: Mm, included_angle: Deg) -> Mm:
    """Lever arm of friction on a cone seat, as it acts on the axial load.

    Model: even pressure on a rigid cone; the seat's force grows by 1/sin of half the angle.
    included_angle: above 0, up to 180 (flat). Raises ValueError outside.
    Source: own derivation: D_Km/(2 sin a), a half the included angle.
    By hand, 60°: 16/(2·0.5) = 16, twice the arm of a flat seat.
    >>> round(cone_seat_arm(16.0, 60.0), 9)
    16.0
    """
    if not 0.0 < included_angle <= _FLAT_ANGLE:
        raise ValueError(f"a cone seat has no included angle of {included_angle} degrees")
    return mean_diameter / (2.0 * sin(radians(included_angle / 2.0)))


def torque_by_friction(
    clamp: Newton, thread: ThreadSizes, *, friction: Friction, seat_arm: Mm
) -> NewtonMetre:
    """Torque that goes with a clamp load, by pitch, thread friction and seat friction.

    Model: T = F (P/2π + 0.577 d2 µ_G + arm µ_K). 60° thread, even bearing. clamp: >= 0.
    seat_arm: from `flat_seat_arm` or `cone_seat_arm`.
    Source: [VDI2230] tightening torque (constants from memory).
    By hand, M12 × 1.5, µ 0.12, arm 8.5, 1 kN: 0.2387 + 0.7639 + 1.02 = 2.02 N·m.
    >>> from generator.geometry.threads import metric_thread
    >>> thread = metric_thread(12.0, 1.5)
    >>> round(torque_by_friction(1000.0, thread, friction=Friction(0.12, 0.12), seat_arm=8.5), 2)
    2.02
    """
    in_thread = thread.pitch / (2.0 * pi) + _FLANK * thread.pitch_diameter * friction.thread
    return clamp * (in_thread + seat_arm * friction.seat) / _MM_PER_METRE


def clamp_range(
    torque: NewtonMetre,
    diameter: Mm,
    *,
    factors: FrictionRange,
    tool_scatter: Ratio = _TOOL_SCATTER,
) -> ClampRange:
    """Clamp loads that one torque may give over a range of friction and the tool's scatter.

    Model: both at their worst together, so real joints lie inside. Information, never a figure to
    torque to. torque: >= 0. factors: > 0. tool_scatter: 0 to below 1.
    Source: [FASTENERDATA] K ranges and ±30 %, second hand.
    By hand, 100 N·m, M12, K 0.15 to 0.25: 0.7·33.3 = 23.3 kN to 1.3·55.6 = 72.2 kN.
    >>> round(clamp_range(100.0, 12.0, factors=FrictionRange(0.15, 0.25)).greatest)
    72222
    """
    rough = clamp_from_torque(torque, diameter, nut_factor=factors.greatest)
    slick = clamp_from_torque(torque, diameter, nut_factor=factors.least)
    return ClampRange((1.0 - tool_scatter) * rough, (1.0 + tool_scatter) * slick)


def preload_ratio(factor_before: Ratio, factor_after: Ratio) -> Ratio:
    """Clamp load after lubricating over the clamp load before, at the same torque.

    Both > 0.
    Source: [FASTENERDATA] F2/F1 = K1/K2, second hand.
    By hand: 0.20/0.15 = 1.333, a third more.
    >>> round(preload_ratio(0.20, 0.15), 4)
    1.3333
    """
    return factor_before / factor_after


def proof_check(clamp: Newton, proof_load: Newton, *, share: Ratio) -> Check:
    """Clamp load as a share of the stud's proof load, held against the share wanted at most.

    proof_load: > 0. share: 0.75 for joints that are taken apart again.
    Source: [SHIGLEY] 0.75 of the proof load, second hand.
    By hand: 41.7/73.1 kN = 0.57, 0.18 below 0.75.
    >>> round(proof_check(41667.0, 73148.0, share=0.75).value, 2)
    0.57
    """
    return at_most(clamp / proof_load, share, source="SHIGLEY")


def slip_moment(studs: int, clamp: Newton, *, friction: Ratio, radius: Mm) -> NewtonMetre:
    """Moment about the axle at which a clamped wheel slips on its hub.

    Model: friction alone carries the wheel, all studs alike; radius is where the faces press, half
    the bolt circle where nobody knows better. All > 0.
    Source: [PRACTICE] n·F·µ·r.
    By hand: 5·45 kN·0.15·57.15 mm = 1928.8 N·m.
    >>> round(slip_moment(5, 45000.0, friction=0.15, radius=57.15), 1)
    1928.8
    """
    return studs * clamp * friction * radius / _MM_PER_METRE


def slip_check(moment: NewtonMetre, brake_moment: NewtonMetre) -> Check:
    """Moment at which the wheel slips on its hub, held against the brake's moment at that wheel.

    Source: [PRACTICE] n·F·µ·r at least the brake moment.
    >>> round(slip_check(1928.8, 1500.0).margin, 1)
    428.8
    """
    return at_least(moment, brake_moment, source=PRACTICE)


def clamp_stress(clamp: Newton, thread: ThreadSizes) -> Mpa:
    """Tensile stress of a stud under its clamp load.

    Model: even stress over the stress area; the torsion of tightening is left out. clamp: >= 0.
    Source: [ISO898-1] stress area; own derivation: load over area.
    By hand: 41 667 N/88.13 mm² = 473 MPa.
    >>> from generator.geometry.threads import metric_thread
    >>> round(clamp_stress(41667.0, metric_thread(12.0, 1.5)))
    473
    """
    return clamp / thread.stress_area
