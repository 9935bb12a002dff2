"""Pages compared without being made, held against the same pages made and compared."""

from functools import cache

from generator.computing import guide_of
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.site.plan import plan
from generator.site.planned import Planned, planned

OTHER = "other chassis: {}"
OWN, ELSEWHERE = "chassis/ostvane-meridel.html", "chassis/pellow-brant.html"


@cache
def both_ways(overlay: str) -> tuple[Planned, dict[str, object]]:
    guide = guide_of(collect(example_files(overlay)), ())
    return planned(guide, ()), {page.path: page for page in plan(guide)}


def test_a_page_differs_where_what_it_shows_does_and_only_there() -> None:
    first, first_pages = both_ways(f"{OTHER}\nsetup: {{title: The first words}}")
    second, second_pages = both_ways(f"{OTHER}\nsetup: {{title: The second words}}")
    assert first.addresses() == set(first_pages)
    changed = {path for path in first_pages if first.differs(second, path)}
    assert changed == {path for path in first_pages if first_pages[path] != second_pages[path]}
    assert OWN in changed
    assert ELSEWHERE in set(first_pages) - changed


def test_a_record_that_is_new_changes_no_page_of_another_chassis() -> None:
    first, first_pages = both_ways(OTHER)
    second, second_pages = both_ways(f"{OTHER}\nother: {{}}")
    assert first.addresses() < second.addresses() == set(second_pages)
    changed = {path for path in first_pages if first.differs(second, path)}
    assert changed == {path for path in first_pages if first_pages[path] != second_pages[path]}
    assert first.grounds[ELSEWHERE] == second.grounds[ELSEWHERE]
    assert first.grounds[OWN] != second.grounds[OWN]
