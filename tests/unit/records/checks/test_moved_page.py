"""Rule L27: an old address leads to a page that is there, in one step, and covers none."""

from pathlib import Path

import pytest

from generator.reading.fault import Fault
from generator.reading.folder import Found
from generator.records.checking import check
from generator.records.collect import collect
from generator.records.examples import DAY_OF_EXAMPLES, example_faults, example_files
from generator.records.inspection import inspect

HERE = "setups/ostvane-meridel/copperbill-seven-inch"


def found(*moves: tuple[str, str]) -> tuple[Fault, ...]:
    listed = ", ".join(f"{{old: {old}, new: {new}}}" for old, new in moves)
    faults = example_faults(f"club: {{moved: [{listed}]}}")
    return tuple(fault for fault in faults if fault.code == "L27")


def test_an_old_address_may_lead_to_any_kind_of_page() -> None:
    assert found(("setups/ostvane-meridel/first", HERE), ("chassis/meridel", HERE)) == ()
    assert found(("articles/old", "chassis/ostvane-meridel")) == ()


def test_an_old_address_that_leads_to_nothing_names_the_nearest_page() -> None:
    (fault,) = found(("chassis/meridel", "chassis/ostvane-meridell"))
    assert (fault.place.path, fault.fix) == ("club.yaml", "write `new: chassis/ostvane-meridel`")
    assert fault.place.excerpt.strip().endswith("chassis/ostvane-meridell")


def test_an_old_address_that_is_still_a_page_is_refused() -> None:
    (fault,) = found((HERE, "chassis/ostvane-meridel"))
    assert fault.headline == f"`{HERE}` is still the address of a page"


def test_a_page_cannot_lead_to_itself() -> None:
    assert len(found((HERE, HERE))) == 1


def test_two_steps_are_refused_with_the_last_one() -> None:
    (fault,) = found(("articles/a", "articles/b"), ("articles/b", HERE))
    assert fault.fix == f"write `new: {HERE}`"


def test_a_circle_is_refused() -> None:
    assert len(found(("articles/a", "articles/b"), ("articles/b", "articles/a"))) == 2


def test_one_address_cannot_lead_two_ways() -> None:
    (fault,) = found(("articles/a", HERE), ("articles/a", "chassis/ostvane-meridel"))
    assert fault.headline == "`articles/a` is listed twice"
    assert len(fault.also) == 1


@pytest.mark.parametrize(
    "way",
    ["../../etc/passwd", "/setups/a/b", "setups/a", "setups/a/b/c", "pages/a", "setups/A/b",
     "setups/a/index", "chassis/con", "articles/index", "https://example.org", "setups/a/b?x=1"],
)  # fmt: skip
def test_a_way_that_no_file_can_have_is_refused(way: str) -> None:
    faults = example_faults(f'club: {{moved: [{{old: "{way}", new: {HERE}}}]}}')
    assert [fault.code for fault in faults] == ["F08"]


@pytest.mark.parametrize("ending", [".yaml", ".html"])
def test_an_ending_is_taken_off_by_the_fix(ending: str) -> None:
    (fault,) = example_faults(f"club: {{moved: [{{old: articles/a, new: {HERE}{ending}}}]}}")
    assert fault.fix == f"write `new: {HERE}`"


def test_a_file_that_cannot_be_read_is_not_called_missing() -> None:
    files = example_files(f"club: {{moved: [{{old: articles/a, new: {HERE}}}]}}")
    broken = [Found(each.path, b"{" if "setups/" in each.path else each.content) for each in files]
    library = collect(broken).library
    codes = {fault.code for fault in check(library, today=DAY_OF_EXAMPLES)}
    assert "L27" not in codes


def test_the_club_file_alone_is_judged_beside_all_files(tmp_path: Path) -> None:
    moved = "[{old: articles/a, new: articles/b}, {old: chassis/x, new: chassis/ostvane-meridel}]"
    for file in example_files(f"club: {{moved: {moved}}}"):
        (tmp_path / file.path).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / file.path).write_bytes(file.content)
    (tmp_path / "articles").mkdir()
    head = "---\ntitle: B\nsummary: b\norder: 1\n---\n\nText.\n"
    (tmp_path / "articles" / "b.md").write_text(head, encoding="utf-8")
    inspected = inspect([tmp_path / "club.yaml"], today=DAY_OF_EXAMPLES)
    assert inspected.faults == ()
