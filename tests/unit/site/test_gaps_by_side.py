"""Gaps on paper: left beside right, and never a side not looked at that another tool looked at."""

from generator.records.collect import collect
from generator.records.examples import example_files
from generator.site.gaps_by_side import by_side
from generator.site.gaps_shown import gap_rows

LEFT = "{site: strut-tube, side: left, state: static, gap: 9 mm, tool: feeler gauge}"
RIGHT = "{site: strut-tube, side: right, state: static, gap: 7 mm, tool: clay}"
ONE_SIDED = """
  sites:
    - {name: strut-tube, label: strut tube, axle: front, facing: inboard, moves_with: knuckle,
       only: left, wanted: 5 mm, block: {x: 0 mm, y: -139 mm, z: 200 mm}}
"""


def rows(*gaps: str, chassis: str = ""):
    told = f"setup: {{gaps: [{', '.join(gaps)}]}}"
    files = example_files(f"chassis:{chassis}\n{told}" if chassis else told)
    case = next(iter(collect(files).library.cases()))
    return by_side(gap_rows(case, None))


def test_sides_looked_at_with_two_tools_stand_beside_each_other() -> None:
    (row,) = rows(LEFT, RIGHT)
    assert (row.left.value, row.right.value) == (9.0, 7.0)
    assert row.found == (("clears", ""),)


def test_the_same_side_again_and_another_state_are_rows_apart() -> None:
    for other in (LEFT.replace("9 mm", "8 mm"), RIGHT.replace("static", "full bump")):
        assert len(rows(LEFT, other)) == 2


def test_a_side_nobody_looked_at_says_so() -> None:
    (row,) = rows(LEFT)
    assert row.right.text == "not looked at"


def test_a_side_that_has_no_such_site_is_not_said_to_wait_for_a_look() -> None:
    (row,) = rows(LEFT, chassis=ONE_SIDED)
    assert (row.left.value, row.right.text) == (9.0, "left only")


def test_words_that_differ_name_their_sides() -> None:
    (row,) = rows(LEFT, RIGHT.replace("7 mm", "2 mm"))
    assert row.found == (("free here", "left"), ("tight", "right"))
