"""What records say of corrections, reckoned by hand: true gap less computed gap.

The post stands 14 mm beside the stock tyre, on the hub's side. A spacer of 5 mm moves the wheel
away from it, so that 19 mm are computed.
"""

from math import inf, sqrt

import pytest

from generator.assessment.sites import Condition
from generator.evidence.entries import TOOL_U, entries
from generator.records.fitted import Bodywork
from generator.records.setup import Rub, Withdrawal
from generator.records.words import Axle, Lips, Part, Side, State, Tool


def found(bench, *gaps, spacer=5.0, **said):
    filed = bench.setup(*gaps, spacer=spacer, **said)
    return entries(filed, bench.assessed(filed))


@pytest.mark.parametrize(
    ("said", "low", "high"),
    [
        ("17 mm", -2.0, -2.0),  # 17 − 19
        ("0.75 in", 0.05, 0.05),  # 19.05 − 19
        ("clears", -19.0, inf),
        ("touches", -inf, -19.0),
        ("more than 10 mm", -9.0, inf),
        ("8 to 12 mm", -11.0, -7.0),
    ],
)
def test_a_gap_is_held_against_the_gap_of_its_own_setup(bench, make_gap, said, low, high):
    (entry,) = found(bench, make_gap(said))
    assert entry.observation.low == pytest.approx(low, abs=0.02)
    assert entry.observation.high == pytest.approx(high, abs=0.02)


def test_the_same_gap_with_stock_wheels_says_something_else(bench, make_gap):
    (entry,) = found(bench, make_gap("17 mm"), spacer=0.0)
    assert entry.observation.low == pytest.approx(3.0, abs=0.02)  # 17 − 14


def test_both_sides_are_two_entries_and_one_side_is_one(bench, make_gap):
    both = found(bench, make_gap("17 mm", side=Side.BOTH))
    assert [entry.key.side for entry in both] == [Side.LEFT, Side.RIGHT]
    (right,) = found(bench, make_gap("17 mm", side=Side.RIGHT))
    assert right.key.side is Side.RIGHT


def test_what_was_not_checked_says_nothing(bench, make_gap):
    assert found(bench, make_gap("not checked")) == ()


def test_a_withdrawn_record_says_nothing(bench, make_gap):
    withdrawn = Withdrawal.model_construct(date=None, reason="another hub")
    assert found(bench, make_gap("17 mm"), withdrawn=withdrawn) == ()


def test_a_worse_tool_leaves_more_doubt(bench, make_gap):
    (feeler,) = found(bench, make_gap("17 mm", tool=Tool.FEELER))
    (memory,) = found(bench, make_gap("17 mm", tool=Tool.MEMORY))
    wanted = TOOL_U[Tool.MEMORY] ** 2 - TOOL_U[Tool.FEELER] ** 2
    grown = memory.observation.u**2 - feeler.observation.u**2
    assert grown == pytest.approx(wanted)


def test_a_rougher_reading_leaves_more_doubt(bench, make_gap):
    (coarse,) = found(bench, make_gap("17 mm"))
    (fine,) = found(bench, make_gap("17.0 mm"))
    # A rectangular step of 1 mm against one of 0.1 mm, [GUM] 4.3.7.
    grown = coarse.observation.u**2 - fine.observation.u**2
    assert grown == pytest.approx((1.0 - 0.01) / 12.0)
    assert coarse.observation.u > sqrt(1.0 / 12.0)


def rub(grade, cured=None):
    return Rub.model_construct(
        site="post", axle=None, side=Side.LEFT, grade=grade, when="later", cured=cured
    )


def test_a_mark_says_that_no_gap_was_left(bench):
    (entry,) = found(bench, rubs=(rub(2),))
    assert (entry.observation.low, entry.index) == (-inf, -1)
    assert entry.observation.high == pytest.approx(-19.0, abs=0.02)


@pytest.mark.parametrize("mark", [rub(0), rub(2, cured=True)])
def test_no_mark_and_a_cured_one_say_nothing(bench, mark):
    assert found(bench, rubs=(mark,)) == ()


def test_a_mark_that_stays_counts(bench):
    assert len(found(bench, rubs=(rub(1, cured=False),))) == 1


def test_a_name_at_both_ends_needs_its_axle(bench, make_gap, make_site):
    two = bench.with_sites(make_site(), make_site(axle=Axle.REAR))
    assert found(two, make_gap("17 mm")) == ()
    here = make_gap("17 mm").model_copy(update={"axle": Axle.FRONT})
    assert [entry.key.axle for entry in found(two, here)] == [Axle.FRONT]


def test_a_rolled_lip_is_another_condition(bench, make_gap, make_site):
    lip = bench.with_sites(make_site(part=Part.LIP))
    filed = lip.setup(make_gap("17 mm"))
    body = Bodywork.model_construct(lips=Lips.ROLLED, lips_gained=lip.candidate(8.0).axle(
        Axle.FRONT).spacer.thickness)  # fmt: skip
    front = filed.value.front.model_copy(update={"bodywork": body})
    rolled = lip.setup(make_gap("17 mm"), front=front)
    conditions = [entries(each, lip.assessed(each))[0].key.condition for each in (filed, rolled)]
    assert conditions == [Condition.STOCK, Condition.ROLLED]


def test_a_state_that_does_not_move_the_wheel_counts_as_any_other(bench, make_gap):
    (entry,) = found(bench, make_gap("17 mm", state=State.FULL_BUMP))
    assert entry.observation.low == pytest.approx(-2.0, abs=0.02)
