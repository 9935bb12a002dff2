from math import nan, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.geometry import threads
from generator.geometry.threads import Strengths, StripAreas, ThreadLimits
from generator.quantities.estimate import Basis, Estimate

# ISO 965-2 limits of 6g and 6H, from memory.
M12 = ThreadLimits(1.5, 11.732, 10.854, 11.216, 10.676)
M12_AREA = 88.13
EQUAL = Strengths(1040.0, 1040.0)

diameters = st.floats(5.0, 24.0)
pitches = st.floats(0.5, 2.4)
strengths = st.floats(150.0, 1300.0)


@given(diameters, pitches)
def test_the_stress_area_lies_between_root_and_pitch_circle(diameter, pitch):
    thread = threads.metric_thread(diameter, pitch)
    root = threads.metric_root_diameter(diameter, pitch)
    assert pi / 4 * root**2 < thread.stress_area < pi / 4 * thread.pitch_diameter**2
    assert root < thread.nut_bore < thread.pitch_diameter < diameter


@given(diameters, pitches)
def test_both_thread_families_agree_within_their_root_forms(diameter, pitch):
    # ISO 898-1 takes 0.9382 P off the diameter, ASME B1.1 0.9743 P; both figures printed.
    metric = threads.metric_thread(diameter, pitch).stress_area
    unified = threads.unified_thread(diameter, pitch).stress_area
    assert pi / 4 * (diameter - 0.9382 * pitch) ** 2 == pytest.approx(metric, rel=1e-4)
    assert unified < metric


@pytest.mark.parametrize(("diameter", "pitch"), [(12.0, 0.0), (12.0, 7.0), (0.0, 1.5), (12.0, nan)])
def test_sizes_that_are_no_thread_are_refused(diameter, pitch):
    with pytest.raises(ValueError, match="no thread"):
        threads.metric_thread(diameter, pitch)
    with pytest.raises(ValueError, match="no thread"):
        threads.unified_thread(diameter, pitch)


@given(st.floats(0.0, 30.0), st.floats(0.0, 30.0))
def test_strip_areas_go_with_the_engagement(one, other):
    first, second = threads.strip_areas(M12, one), threads.strip_areas(M12, other)
    both = threads.strip_areas(M12, one + other)
    assert first.stud + second.stud == pytest.approx(both.stud)
    assert first.nut + second.nut == pytest.approx(both.nut)


def test_a_stud_strips_at_its_tensile_load_over_the_least_engagement():
    # The meaning of the least engagement in FED-STD-H28: strip force equals the breaking load.
    length = threads.least_engagement(M12, M12_AREA)
    force = threads.strip_force(threads.strip_areas(M12, length), EQUAL)
    assert threads.load_at_stress(M12_AREA, 1040.0) == pytest.approx(force)


@given(strengths, strengths)
def test_over_the_length_for_its_strengths_no_thread_strips_first(stud, nut):
    pair = Strengths(stud, nut)
    length = threads.engagement_for_strength(M12, M12_AREA, strengths=pair)
    force = threads.strip_force(threads.strip_areas(M12, length), pair)
    assert force >= threads.load_at_stress(M12_AREA, stud) * (1 - 1e-9)


def test_a_weak_nut_needs_the_ratio_times_the_length():
    # FED-STD-H28: J = 228.8·1040/(309.0·310) = 2.484 over one diameter of M12 × 1.5.
    pair = Strengths(1040.0, 310.0)
    ratio = threads.strength_ratio(threads.strip_areas(M12, 12.0), pair)
    assert pytest.approx(2.484, abs=0.001) == ratio
    length = threads.engagement_for_strength(M12, M12_AREA, strengths=pair)
    assert length == pytest.approx(9.24 * 2.484, abs=0.02)


def test_a_strong_nut_needs_no_less_than_equal_materials():
    length = threads.engagement_for_strength(M12, M12_AREA, strengths=Strengths(800.0, 1300.0))
    assert threads.least_engagement(M12, M12_AREA) == length


@pytest.mark.parametrize("pair", [(0.0, 500.0), (500.0, nan), (nan, 500.0), (500.0, -1.0)])
def test_strengths_that_are_none_are_refused(pair):
    with pytest.raises(ValueError, match="strength"):
        Strengths(*pair)


@pytest.mark.parametrize(
    "limits",
    [
        (0.0, 11.7, 10.9, 11.2, 10.7),
        (1.5, 10.0, 10.9, 11.2, 10.7),
        (1.5, 11.7, nan, 11.2, 10.7),
        (1.5, 11.7, 10.9, nan, 10.7),
        (1.5, 11.7, 10.9, 11.2, nan),
    ],
)
def test_limits_of_threads_that_do_not_meet_are_refused(limits):
    with pytest.raises(ValueError, match=r"thread|nut"):
        ThreadLimits(*limits)


@pytest.mark.parametrize("length", [-1.0, nan])
def test_an_engagement_below_nothing_is_refused(length):
    with pytest.raises(ValueError, match="engaged"):
        threads.strip_areas(M12, length)


def test_the_weaker_thread_gives_the_strip_force():
    areas = StripAreas(stud=200.0, nut=300.0)
    assert threads.strip_force(areas, Strengths(1000.0, 900.0)) == 0.5 * 200.0 * 1000.0
    assert threads.strip_force(areas, Strengths(1000.0, 300.0)) == 0.5 * 300.0 * 300.0


@given(st.floats(0.0, 20.0), st.floats(0.5, 2.5))
def test_turns_and_length_are_one_another_back(turns, pitch):
    length = threads.engagement_from_turns(Estimate(turns, 0.25, Basis.MEASURED), pitch)
    assert turns == pytest.approx(threads.turns_for(length.value, pitch))
    assert length.u == pytest.approx(0.25 * pitch)
