"""What one more measured car would tell: against learning anew, and what no forecast can do."""

import time

import numpy as np
import pytest
from scipy.stats import entropy as scipy_entropy

from generator.evidence.learning import learn
from generator.evidence.limits import site_posterior
from generator.evidence.observation import Origin, exact, lower_bound, upper_bound
from generator.evidence.prior import SitePrior
from generator.evidence.verdict import verdict
from generator.evidence.worth import (
    MOST,
    entropy,
    expected_drop,
    predicted_chances,
    worth_for_club,
    worth_measuring,
)
from generator.records.words import State, Tool

SHEET = SitePrior(0.0, 6.0)


def origin(car):
    return Origin(f"car {car}", f"member {car}", f"record {car}")


MIXED = (
    exact(3.0, 1.5, origin("a")),
    upper_bound(5.0, 3.0, origin("b")),
    lower_bound(-4.0, 2.0, origin("c")),
)


@pytest.mark.parametrize("chance", [0.001, 0.2, 0.5, 0.93])
def test_entropy_is_that_of_a_general_library(chance):
    assert entropy(chance) == pytest.approx(scipy_entropy([chance, 1.0 - chance], base=2))


@pytest.mark.parametrize("entries", [(), MIXED[:1], MIXED], ids=["none", "one", "three"])
@pytest.mark.parametrize("short", [-6.0, 0.0, 4.0, 12.0])
def test_nobody_expects_to_change_his_mind(entries, short):
    """The mean of the chances after measuring is the chance of now (total probability)."""
    weights, chances = predicted_chances(learn(entries, SHEET), short, blur=2.0, u=1.5)
    now = site_posterior(entries, SHEET).probability_above(short, 2.0)
    assert float(weights @ chances) == pytest.approx(now, abs=1e-3)
    assert float(np.sum(weights)) == pytest.approx(1.0)


@pytest.mark.parametrize("short", [0.0, 5.0])
def test_a_chance_after_measuring_is_that_of_learning_anew(short):
    """Each predicted chance belongs to a found value; the extreme ones bracket all others."""
    learned = learn(MIXED, SHEET)
    _, chances = predicted_chances(learned, short, blur=2.0, u=1.5)
    found = np.linspace(-8.0, 14.0, 23)
    anew = [
        site_posterior([*MIXED, exact(float(y), 1.5, origin("new"))], SHEET).probability_above(
            short, 2.0
        )
        for y in found
    ]
    assert min(chances) == pytest.approx(min(anew), abs=0.01)
    assert max(chances) == pytest.approx(max(anew), abs=0.01)


@pytest.mark.parametrize("entries", [(), MIXED], ids=["none", "three"])
@pytest.mark.parametrize("short", [-20.0, -5.0, 0.0, 5.0, 20.0])
def test_measuring_never_takes_knowledge_away(entries, short):
    drop = expected_drop(learn(entries, SHEET), short, blur=2.0, u=1.5)
    now = site_posterior(entries, SHEET).probability_above(short, 2.0)
    assert 0.0 <= drop <= entropy(now) + 1e-3


def test_a_better_tool_tells_more():
    learned = learn((), SHEET)
    drops = [expected_drop(learned, 3.0, blur=1.0, u=u) for u in (0.5, 2.0, 6.0, 20.0)]
    assert drops == sorted(drops, reverse=True)
    assert drops[0] > 2.0 * drops[-1]


def test_a_site_that_many_cars_measured_has_little_left_to_tell():
    many = [exact(2.0 + 0.5 * n, 0.5, origin(n)) for n in range(8)]
    fresh = expected_drop(learn((), SHEET), 3.0, blur=1.0, u=1.0)
    known = expected_drop(learn(many, SHEET), 3.0, blur=1.0, u=1.0)
    assert known < fresh / 2.0


@pytest.fixture(scope="module")
def judged(library, meridel, assessments, evidence):
    return {
        setup.id: verdict(assessments[setup.id], evidence)
        for setup in library.of_chassis(meridel.id)
    }


def test_the_demo_chassis_is_told_what_to_measure(judged, evidence):
    start = time.process_time()
    found = worth_measuring(evidence, judged)
    assert time.process_time() - start < 2.0
    assert 0 < len(found) <= MOST
    assert [each.worth for each in found] == sorted((e.worth for e in found), reverse=True)
    for each in found:
        assert each.label
        assert "rests on" in each.why
        assert each.worth <= entropy(each.chance) + 1e-3
        assert (each.tool is Tool.CLAY) or each.state is State.STATIC


def test_what_is_decided_is_not_worth_measuring(bench, make_site):
    from generator.quantities.quantity import read_quantity
    from generator.quantities.units import Dimension

    def wanting(text):
        wanted = read_quantity(text, Dimension.LENGTH)
        one = bench.with_sites(make_site().model_copy(update={"wanted": wanted}))
        filed = one.candidate().setup
        learned = one.learn()
        return worth_measuring(learned, {filed.id: verdict(one.assessed(filed), learned)})

    # 14 mm are computed: where 14 are wanted it is a toss, where 90 are no measuring helps.
    assert wanting("14 mm")[0].worth > 0.02
    assert wanting("90 mm") == ()


def test_the_order_of_setups_changes_nothing(judged, evidence):
    backward = dict(reversed(list(judged.items())))
    assert worth_measuring(evidence, backward) == worth_measuring(evidence, judged)


def test_the_club_is_told_the_best_of_all(judged, evidence):
    found = worth_measuring(evidence, judged)
    assert worth_for_club([found[2:], found[:2]])[0] == found[0]
    assert worth_for_club([]) == ()
