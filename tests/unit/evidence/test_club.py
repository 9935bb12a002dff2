"""What the records of one chassis say together, and which of them still count."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.stats import halfnorm, norm

from generator.assessment.sites import Condition
from generator.evidence.club import conditions, learn_chassis, prior
from generator.evidence.entries import SiteKey
from generator.records.setup import Withdrawal
from generator.records.words import Axle, Side, Tool

LEFT = SiteKey(Axle.FRONT, "post", Side.LEFT, Condition.STOCK)
RIGHT = SiteKey(Axle.FRONT, "post", Side.RIGHT, Condition.STOCK)


def record(bench, make_gap, car, said, *, side=Side.LEFT, **more):
    found = make_gap(said, side=side, tool=Tool.FEELER)
    return bench.setup(found, name=f"record-{car}", car=f"car-{car}", member=f"M{car}", **more)


def test_without_records_the_sheet_alone_speaks(bench):
    """Independent: the next car is N(0, s² + τ²), τ half-normal of scale 4, by scipy.

    s is 3 where the sheet is right, and the model's wide spread where it is not.
    """
    held = prior(bench.chassis.value.sites[0])
    share = held.sheet_wrong_share
    assert (held.sd, held.car_spread) == (3.0, 4.0)  # as the sheet of the test says

    def given(t, x, s):
        return norm.cdf(x, 0.0, np.hypot(s, t)) * halfnorm.pdf(t, 0, 4)

    def below(x):
        parts = ((1.0 - share, held.sd), (share, held.sheet_wrong_sd))
        return sum(weight * quad(given, 0.0, 40.0, args=(x, s))[0] for weight, s in parts)

    limits = bench.learn().posterior(LEFT)
    assert limits.prior_only
    assert limits.limits.median == pytest.approx(0.0, abs=0.02)
    assert limits.limits.high == pytest.approx(brentq(lambda x: below(x) - 0.95, 0, 90), abs=0.05)


def test_sides_are_learned_apart(bench, make_gap):
    known = bench.learn(record(bench, make_gap, 1, "24 mm"))
    assert known.posterior(LEFT).cars == 1
    assert 0.0 < known.posterior(LEFT).limits.median < 10.0  # 24 − 14, drawn to the sheet
    assert known.posterior(RIGHT).prior_only


def test_a_gap_on_both_sides_counts_on_both(bench, make_gap):
    known = bench.learn(record(bench, make_gap, 1, "24 mm", side=Side.BOTH))
    assert known.posterior(LEFT) == known.posterior(RIGHT)


def test_a_withdrawn_record_is_forgotten(bench, make_gap):
    gone = Withdrawal.model_construct(date=None, reason="another hub")
    known = bench.learn(record(bench, make_gap, 1, "24 mm", withdrawn=gone))
    assert known.posterior(LEFT).prior_only


def test_a_record_that_another_replaces_is_forgotten(bench, make_gap):
    old = record(bench, make_gap, 1, "24 mm")
    new = bench.setup(
        make_gap("12 mm", tool=Tool.FEELER), name="later", car="car-1", supersedes="record-1"
    )
    known = bench.learn(old, new).posterior(LEFT)
    assert known.records == (f"{bench.chassis.id}/later",)
    assert known == bench.learn(new).posterior(LEFT)


def test_the_order_of_files_changes_no_bit(bench, make_gap):
    records = [
        record(bench, make_gap, n, said)
        for n, said in enumerate(("14 mm", "17.5 mm", "clears", "11 to 16 mm"))
    ]
    forward, backward = bench.learn(*records), bench.learn(*records[::-1])
    assert forward.posterior(LEFT) == backward.posterior(LEFT)
    assert forward.limits[LEFT] == backward.limits[LEFT]


@pytest.fixture(scope="module")
def planted(bench, make_gap):
    """Seven cars with corrections within 1.5 mm of nothing, and one read 30 mm too large."""
    said = ("14 mm", "15 mm", "13 mm", "14.5 mm", "13.5 mm", "15.5 mm", "12.5 mm")
    honest = [record(bench, make_gap, n, text) for n, text in enumerate(said)]
    wrong = record(bench, make_gap, 9, "44 mm")
    return honest, wrong


def test_one_planted_wrong_record_is_named(bench, planted):
    honest, wrong = planted
    known = bench.learn(*honest, wrong)
    (weighed,) = known.doubtful(wrong.id)
    assert weighed.influence.off_by == pytest.approx(30.0, abs=1.5)  # 44 − 14
    assert not any(known.doubtful(each.id) for each in honest)


def test_one_planted_wrong_record_hardly_moves_the_limit(bench, planted):
    honest, wrong = planted
    without, with_it = bench.learn(*honest), bench.learn(*honest, wrong)
    before, after = (each.posterior(LEFT).limits for each in (without, with_it))
    for quantile in ("low", "median", "high"):
        moved = abs(getattr(after, quantile) - getattr(before, quantile))
        assert moved < before.spread / 3.0, quantile


def test_every_entry_is_weighed_beside_its_own_record(bench, planted):
    honest, wrong = planted
    weighed = bench.learn(*honest, wrong).limits[LEFT].weighed
    assert len(weighed) == 8
    for each in weighed:
        assert each.entry.observation == each.influence.observation
        assert each.entry.record == each.influence.observation.origin.record


def test_conditions_with_records_are_listed(bench, make_gap):
    known = bench.learn(record(bench, make_gap, 1, "24 mm"))
    assert conditions(known, LEFT) == (Condition.STOCK,)
    assert conditions(known, RIGHT) == ()


def test_the_demo_club_forgets_what_it_replaced(library, meridel, assessments, evidence):
    setups = {setup.id: setup for setup in library.of_chassis(meridel.id)}
    replaced = {
        f"{meridel.id}/{setup.value.supersedes}"
        for setup in setups.values()
        if setup.value.supersedes
    }
    withdrawn = {name for name, setup in setups.items() if setup.value.withdrawn}
    heard = {name for limit in evidence.limits.values() for name in limit.posterior.records}
    assert heard
    assert not heard & (replaced | withdrawn)
    fewer = {
        name: (setup, assessments[name])
        for name, setup in setups.items()
        if name not in replaced | withdrawn
    }
    assert learn_chassis(meridel, fewer) == evidence
