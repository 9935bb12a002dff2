"""The states of a mock-up, against the table of states of common practice.

Front: standing, droop, locks at three heights, bump, sweep, sideways, bar, other stop. Rear: no
locks; a live axle tilts both ways, and one on a Panhard rod is moved in parallel too.
"""

from dataclasses import replace
from functools import cache

from generator.records.chassis import Chassis
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle, Part
from generator.site.mock_up import EndSteps, mock_up


@cache
def chassis() -> Chassis:
    collected = collect(tuple(example_files("other: {member: Copperbill}")))
    return next(iter(collected.library.chassis.values())).value


@cache
def ends() -> tuple[EndSteps, ...]:
    return mock_up(chassis())


def titles(end: EndSteps) -> list[str]:
    return [step.title for step in end.steps]


def test_the_front_goes_from_harmless_to_tight() -> None:
    found = titles(ends()[0])
    wanted = [
        "Standing, straight ahead, as the car is driven", "Full droop",
        "Both locks at standing height", "Both locks at full droop",
        "Both locks, first at half of bump, then at two thirds", "Full bump, straight ahead",
        "Slow sweep through everything",
    ]  # fmt: skip
    assert [title for title in found if title in wanted] == wanted


def test_the_rear_is_never_steered() -> None:
    assert not [title for title in titles(ends()[1]) if "lock" in title.lower()]


def test_states_are_numbered_through_both_ends() -> None:
    numbers = [step.number for end in ends() for step in end.steps]
    assert numbers == list(range(1, len(numbers) + 1))


def test_every_site_of_the_sheet_is_looked_at_somewhere() -> None:
    for axle, end in zip(Axle, ends(), strict=True):
        sites = {site.label for site in chassis().sites if site.axle is axle}
        rows = [row for step in end.steps for row in step.rows]
        assert sites == {row.label for row in rows if row.is_asked}


def test_what_must_be_said_of_a_site_is_said_once() -> None:
    for end in ends():
        rows = [row for step in end.steps for row in step.rows]
        said = [row.label for row in rows if row.caution and row.is_first]
        assert len(said) == len(set(said))
        assert set(said) == {row.label for row in rows if row.caution}


def test_a_site_far_away_in_a_state_is_there_for_other_wheels_alone() -> None:
    rows = [row for end in ends() for step in end.steps for row in step.rows]
    far = [row for row in rows if not row.is_asked]
    assert far
    assert not any(row.is_first for row in far)


def test_a_step_that_sends_a_reader_to_the_lip_asks_for_it() -> None:
    # Of a tilted axle the tyre's top leans out on the side that is down (common practice).
    lip = next(site for site in chassis().sites if site.name == "fender-lip")
    behind = lip.model_copy(update={"axle": Axle.REAR, "part": Part.LIP})
    rear = mock_up(chassis().model_copy(update={"sites": (behind,)}))[1]
    (down,) = [step for step in rear.steps if "look at the lip" in step.how]
    assert [row.site for row in down.rows if row.is_asked] == [behind.name]
    other = mock_up(chassis().model_copy(update={"sites": (_unnamed(behind),)}))[1]
    assert not any(
        row.is_asked for step in other.steps for row in step.rows if step.how == down.how
    )


def _unnamed(site: SiteSheet) -> SiteSheet:
    """Give the same site, of which the sheet does not say that it is a lip."""
    return site.model_copy(update={"part": None})


def test_a_wanted_gap_stands_beside_every_site() -> None:
    rows = [row for end in ends() for step in end.steps for row in step.rows]
    assert rows
    assert all(row.wanted.value is not None for row in rows)


def test_a_site_whose_place_nobody_knows_is_in_every_state_and_never_has_a_number() -> None:
    site = chassis().sites[0]
    blind = site.model_copy(update={"arc": None, "block": None, "line": None, "reach": None})
    car = chassis().model_copy(update={"sites": (blind,)})
    end = mock_up(car)[0 if site.axle is Axle.FRONT else 1]
    told = [step for step in end.steps if step.rows]
    assert len(told) >= 5
    assert all(row.stock.value is None for step in told for row in step.rows)


def test_rows_are_values() -> None:
    row = next(row for step in ends()[0].steps for row in step.rows)
    assert replace(row) == row
