"""Screw threads: basic sizes, stress area, and the force at which threads strip.

All lengths in mm, inch threads too: an inch thread of n threads an inch has the pitch 25.4/n.
"""

from math import pi, sqrt

from generator.frozen import dataclass
from generator.quantities.estimate import Estimate
from generator.quantities.units import Mm, Mm2, Mpa, Newton, Ratio, Turns

# H = P·√3/2 is the height of the sharp 60° triangle. ISO 68-1: d2 = d − 2·(3/8)H and
# D1 = d − 2·(5/8)H; ISO 898-1 takes the root at d3 = D1 − H/6.
_TRIANGLE = sqrt(3.0) / 2.0
_PITCH_DEPTH, _BORE_DEPTH, _ROOT_DEPTH = 3.0 / 4.0, 5.0 / 4.0, 17.0 / 12.0  # of H, in diameter
_FLANK = 1.0 / sqrt(3.0)  # tan 30°, printed as 0.57735
_UNIFIED_AREA = 0.9743  # [ASMEB1.1] stress area, D − 0.9743/n
_SHEAR_TO_TENSION = 0.5  # [FEDSTDH28] the factor 2 of the least engagement says as much


@dataclass(frozen=True)
class ThreadSizes:
    """A thread's nominal size: diameter, pitch, pitch diameter d2, nut bore D1, stress area."""

    diameter: Mm
    pitch: Mm
    pitch_diameter: Mm
    nut_bore: Mm
    stress_area: Mm2


@dataclass(frozen=True)
class ThreadLimits:
    """The limits of a tolerance class that govern stripping, with the pitch.

    Stud: least major and least pitch diameter. Nut: greatest pitch and greatest minor diameter.
    Raises ValueError where the two threads would not overlap.
    """

    pitch: Mm
    stud_major_least: Mm
    stud_pitch_least: Mm
    nut_pitch_greatest: Mm
    nut_minor_greatest: Mm

    def __post_init__(self) -> None:
        overlap = self.stud_major_least > self.nut_minor_greatest > 0.0
        if not (self.pitch > 0.0 and overlap and self.stud_pitch_least > 0.0):
            raise ValueError(f"threads that do not meet: {self}")
        if not self.nut_pitch_greatest > 0.0:
            raise ValueError(f"a nut without a pitch diameter: {self}")


@dataclass(frozen=True)
class StripAreas:
    """Areas in shear where the stud's threads and where the nut's threads would strip."""

    stud: Mm2
    nut: Mm2


@dataclass(frozen=True)
class Strengths:
    """Tensile strengths of the stud's and of the nut's (or tapped hub's) material.

    Raises ValueError unless both are above zero.
    """

    stud: Mpa
    nut: Mpa

    def __post_init__(self) -> None:
        if not (self.stud > 0.0 and self.nut > 0.0):
            raise ValueError(f"a strength is above zero, got {self}")


def metric_root_diameter(diameter: Mm, pitch: Mm) -> Mm:
    """Root diameter d3 of a metric external thread, d − 17/12·H.

    Model: the rounded root of the design profile. diameter, pitch: > 0.
    Source: [ISO898-1] stress area (figure 1.226869 from memory).
    >>> round(metric_root_diameter(12.0, 1.5), 3)
    10.16
    """
    return diameter - _ROOT_DEPTH * _TRIANGLE * pitch


def metric_thread(diameter: Mm, pitch: Mm) -> ThreadSizes:
    """Nominal sizes of an ISO metric thread; the stress area is of the mean of d2 and d3.

    Model: 60° profile, basic size, no tolerance. diameter: > 0. pitch: > 0, below half the
    diameter. Raises ValueError outside.
    Source: [ISO68-1] basic dimensions (D1 from memory); [ISO898-1] stress area.
    By hand, M12 × 1.5: d2 = 12 − 0.649519·1.5 = 11.026; d3 = 12 − 1.226869·1.5 = 10.160;
    area = π/4·10.593² = 88.13.
    >>> round(metric_thread(12.0, 1.5).stress_area, 2)
    88.13
    """
    pitch_diameter, nut_bore = _basic_diameters(diameter, pitch)
    mean = (pitch_diameter + metric_root_diameter(diameter, pitch)) / 2.0
    return ThreadSizes(diameter, pitch, pitch_diameter, nut_bore, pi / 4.0 * mean**2)


def unified_thread(diameter: Mm, pitch: Mm) -> ThreadSizes:
    """Nominal sizes of a unified inch thread, in mm.

    Model: 60° profile, basic size, no tolerance. diameter: > 0. pitch: > 0, 25.4 over the
    threads an inch, below half the diameter. Raises ValueError outside.
    Source: [ASMEB1.1] stress area, 0.7854 (D − 0.9743/n)².
    By hand, 1/2-20: 0.7854·(0.5 − 0.048715)² = 0.1600 in² = 103.2 mm².
    >>> round(unified_thread(12.7, 1.27).stress_area, 1)
    103.2
    """
    pitch_diameter, nut_bore = _basic_diameters(diameter, pitch)
    area = pi / 4.0 * (diameter - _UNIFIED_AREA * pitch) ** 2
    return ThreadSizes(diameter, pitch, pitch_diameter, nut_bore, area)


def _basic_diameters(diameter: Mm, pitch: Mm) -> tuple[Mm, Mm]:
    if not 0.0 < pitch < diameter / 2.0:
        raise ValueError(f"no thread has diameter {diameter} mm and pitch {pitch} mm")
    height = _TRIANGLE * pitch
    return diameter - _PITCH_DEPTH * height, diameter - _BORE_DEPTH * height


def load_at_stress(stress_area: Mm2, stress: Mpa) -> Newton:
    """Axial load of a stud at a stress: its proof load, or its least tensile load.

    Model: even stress over the stress area. stress: >= 0, from the property class. A published
    proof load uses the rounded area and may differ in the third figure.
    Source: [ISO898-1] proof loads and tensile loads.
    >>> round(load_at_stress(88.13, 830.0))
    73148
    """
    return stress_area * stress


def strip_areas(limits: ThreadLimits, engagement: Mm) -> StripAreas:
    """Shear areas of stud and nut threads over a length of engagement.

    Model: worst sizes the tolerance class allows; every engaged thread bears alike; no bending of
    the nut's wall. engagement: >= 0, ValueError otherwise.
    Source: [FEDSTDH28] section 2B, areas A_ss and A_sn.
    By hand, 1/2-20 over 0.5 in: stud π·20·0.5·0.4570·(0.025 + 0.57735·0.0049) = 0.3995 in².
    >>> limits = ThreadLimits(1.27, 12.461, 11.732, 12.017, 11.608)
    >>> round(strip_areas(limits, 12.7).stud / 25.4**2, 2)
    0.4
    """
    if not engagement >= 0.0:
        raise ValueError(f"an engaged length is not below zero, got {engagement} mm")
    turns = engagement / limits.pitch
    stud_overlap = limits.stud_pitch_least - limits.nut_minor_greatest
    nut_overlap = limits.stud_major_least - limits.nut_pitch_greatest
    half = limits.pitch / 2.0
    stud = pi * turns * limits.nut_minor_greatest * (half + _FLANK * stud_overlap)
    nut = pi * turns * limits.stud_major_least * (half + _FLANK * nut_overlap)
    return StripAreas(stud=stud, nut=nut)


def least_engagement(limits: ThreadLimits, stress_area: Mm2) -> Mm:
    """Engagement at which the stud breaks before equally strong threads strip.

    Model: shear strength half the tensile strength; stud and nut of equal strength.
    stress_area: > 0.
    Source: [FEDSTDH28] section 2B, L_e,min = 2·A_t over the stud's strip area of unit length.
    By hand, 1/2-20: 2·0.1599 / 0.799 in = 0.4003 in.
    >>> limits = ThreadLimits(1.27, 12.461, 11.732, 12.017, 11.608)
    >>> round(least_engagement(limits, 103.2) / 25.4, 2)
    0.4
    """
    return stress_area / (_SHEAR_TO_TENSION * strip_areas(limits, 1.0).stud)


def strength_ratio(areas: StripAreas, strengths: Strengths) -> Ratio:
    """Ratio J of the stud's strip force to the nut's; above 1 the nut's threads go first.

    Source: [FEDSTDH28] section 2B, J (formula from memory).
    By hand: areas 228.8 and 309.0, strengths 1040 and 310: 237 952/95 790 = 2.484.
    >>> round(strength_ratio(StripAreas(228.8, 309.0), Strengths(1040.0, 310.0)), 3)
    2.484
    """
    return areas.stud * strengths.stud / (areas.nut * strengths.nut)


def engagement_for_strength(limits: ThreadLimits, stress_area: Mm2, *, strengths: Strengths) -> Mm:
    """Engagement at which the stud breaks before either thread strips, whatever the materials.

    Model: as `least_engagement`; a nut weaker by J > 1 needs J times the length.
    Source: [FEDSTDH28] section 2B, J·L_e (formula of J from memory).
    >>> limits = ThreadLimits(1.5, 11.732, 10.854, 11.216, 10.676)
    >>> round(engagement_for_strength(limits, 88.1, strengths=Strengths(1040.0, 1040.0)), 2)
    9.24
    """
    ratio = strength_ratio(strip_areas(limits, 1.0), strengths)
    return max(1.0, ratio) * least_engagement(limits, stress_area)


def strip_force(areas: StripAreas, strengths: Strengths) -> Newton:
    """Axial force at which the weaker of the two threads strips.

    Model: shear strength half the tensile strength.
    Source: [FEDSTDH28] section 2B; own derivation: area times half the tensile strength.
    By hand: min(228.8·1040, 309.0·310)/2 = 95 790/2 = 47 895.
    >>> strip_force(StripAreas(228.8, 309.0), Strengths(1040.0, 310.0))
    47895.0
    """
    return _SHEAR_TO_TENSION * min(areas.stud * strengths.stud, areas.nut * strengths.nut)


def turns_for(length: Mm, pitch: Mm) -> Turns:
    """Count of turns of a nut that engage a length.

    length: >= 0. pitch: > 0.
    Source: own derivation: one turn advances one pitch.
    >>> turns_for(12.0, 1.5)
    8.0
    """
    return length / pitch


def engagement_from_turns(turns: Estimate, pitch: Mm) -> Estimate:
    """Engagement counted in turns from first catch to seated.

    Model: counts the leading partial thread as whole, so it is the optimistic reading. turns: >= 0.
    Source: own derivation: one turn advances one pitch.
    >>> from generator.quantities.estimate import Basis
    >>> engagement_from_turns(Estimate(6.5, 0.25, Basis.MEASURED), 1.5).value
    9.75
    """
    return turns.scaled(pitch)
