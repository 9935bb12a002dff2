"""How a limit came about: every record that spoke of it, with what it said and what befell it.

What is expected stands in the records written here; nothing is computed.
"""

from dataclasses import replace
from datetime import date

from generator.computing import guide_of
from generator.reading.history import TOLD_FULL, Change, FileHistory, History
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.records.words import Axle
from generator.site.guide import Guide
from generator.site.limit_story import LimitStory, Said, stories

GAP = "gaps: [{site: strut-tube, side: both, state: static, gap: %s, tool: feeler gauge}]"
OWN, OTHER = "Seven-inch wheels with the fender lips rolled", "The same wheels again"


def guide(own: str, other: str) -> Guide:
    overlay = f"setup: {{remedies: [], {own}}}\nother: {{remedies: [], {other}}}"
    collected = collect(example_files(overlay))
    assert not collected.faults
    return guide_of(collected, ())


def strut(found: Guide) -> LimitStory:
    told = [each for each in stories(found, "ostvane-meridel", Axle.FRONT) if "strut" in each.label]
    assert len(told) == 1, [(each.label, each.side, each.condition) for each in told]
    return told[0]


def told(said: Said) -> str:
    return f"{said.shown.typed or said.shown.text} at {said.seen}"


def lines(story: LimitStory) -> list[tuple[date, str, str, tuple[str, ...], bool]]:
    return [
        (each.day, each.event, each.record.label, tuple(map(told, each.says)), each.counts)
        for each in story.steps
    ]


def test_a_limit_tells_what_each_record_said_and_what_befell_it_the_newest_first() -> None:
    corrected = "corrections: [{date: 2025-09-01, what: read the wrong shank}], confirmations: []"
    story = strut(guide(f"{GAP % '9 mm'}, {corrected}", GAP % "clears"))
    assert lines(story) == [
        (date(2025, 9, 1), "corrected", OWN, (), True),
        (date(2025, 7, 5), "reported", OTHER, ("clears at static, feeler gauge",), True),
        (date(2025, 6, 14), "reported", OWN, ("9 mm at static, feeler gauge",), True),
    ]
    assert story.steps[0].told == "read the wrong shank"
    assert (story.side, story.cars) == ("both", 2)


def test_a_record_that_was_withdrawn_is_named_with_its_reason_and_counts_no_more() -> None:
    gone = "withdrawn: {date: 2025-08-01, reason: other hubs}, confirmations: []"
    story = strut(guide(f"{GAP % '9 mm'}, {gone}", GAP % "11 mm"))
    withdrawn, *rest = lines(story)
    assert withdrawn == (date(2025, 8, 1), "withdrawn", OWN, (), False)
    assert story.steps[0].told == "other hubs"
    assert rest[1][2:] == (OWN, ("9 mm at static, feeler gauge",), False)
    assert story.cars == 1


def test_what_only_a_replaced_record_said_is_told_though_nothing_rests_on_it_now() -> None:
    own = "supersedes: fernhollow-seven-inch, gaps: [], confirmations: []"
    other = f"car: copperbill-coupe, date: 2025-05-01, {GAP % '11 mm'}, confirmations: []"
    story = strut(guide(own, other))
    assert [(event, counts) for _, event, _, _, counts in lines(story)] == [
        ("replaced", False),
        ("reported", False),
    ]
    assert story.steps[0].told.endswith(OWN)
    assert story.cars == 0


def test_the_commit_that_brought_a_record_is_told_where_git_is_known() -> None:
    found = guide(f"{GAP % '9 mm'}, confirmations: []", "gaps: [], confirmations: []")
    assert [step.added for step in strut(found).steps] == [None]
    newer, added = Change("b" * 40, date(2025, 9, 3)), Change("a" * 40, date(2025, 8, 2))
    path = "setups/ostvane-meridel/copperbill-seven-inch.yaml"
    history = History(TOLD_FULL, True, {path: FileHistory((newer, added), True)})
    assert [step.added for step in strut(replace(found, history=history)).steps] == [added]
