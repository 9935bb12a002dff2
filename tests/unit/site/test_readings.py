"""What may be said of a record's gaps: unknown is never clear, and the worst speaks first."""

from dataclasses import replace

import pytest

from generator.quantities.span import read_gap
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.records.library import Case, Closer, Doubt
from generator.records.words import Axle
from generator.site.readings import headline, judged, readings, summaries


def case(overlay: str = "setup: {}") -> Case:
    return next(iter(collect(example_files(overlay)).library.cases()))


@pytest.mark.parametrize(
    ("text", "wanted", "word"),
    [
        ("8 mm", 5.0, "clears"),
        ("5 mm", 5.0, "clears"),
        ("4.9 mm", 5.0, "tight"),
        ("4 to 9 mm", 5.0, "tight"),
        ("0 mm", 5.0, "touches"),
        ("touches", 5.0, "touches"),
        ("clears", 5.0, "clears"),
        ("more than 10 mm", 5.0, "clears"),
        ("not checked", 5.0, "unknown"),
        ("not checked", None, "unknown"),
    ],
)
def test_a_gap_has_one_of_four_states(text: str, wanted: float | None, word: str) -> None:
    assert judged(read_gap(text), wanted) == word


def test_a_site_nobody_looked_at_is_unknown() -> None:
    found = {each.site.name: each for each in summaries(case("setup:\n  gaps: []"))}
    assert {each.word for each in found.values()} == {"unknown"}


def test_a_body_site_seen_standing_only_is_unknown() -> None:
    overlay = (
        "setup:\n  gaps:\n    - {site: fender-lip, side: both, state: static, gap: 30 mm}\n"
        "    - {site: strut-tube, side: both, state: static, gap: 9 mm}\n"
    )
    found = {each.site.name: each for each in summaries(case(overlay))}
    assert found["fender-lip"].word == "unknown"
    assert found["strut-tube"].word == "clears"  # it moves with the wheel


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("9 mm", "9 mm"),
        ("9 to 11 mm", "9 to 11 mm"),
        # An inch is 25.4 mm exactly [ISO 80000-3, from memory]: 11 x 25.4 / 16 = 17.46.
        ("11/16 in", "17.5 mm"),
        ("more than 1.1 in", "more than 27.9 mm"),
        ("0.5 to 0.7 in", "12.7 to 17.8 mm"),
        ("clears", "clears"),
    ],
)
def test_a_gap_typed_in_another_unit_is_told_in_mm(typed: str, told: str) -> None:
    gap = f"{{site: strut-tube, side: both, state: static, gap: {typed}}}"
    overlay = f"setup:\n  gaps:\n    - {gap}\n"
    found = {each.site.name: each.reason for each in summaries(case(overlay))}
    assert found["strut-tube"].removesuffix(": how much room there is, is not known") == (
        f"{told}, static"
    )


def test_a_mark_that_nothing_cured_touches_whatever_the_gaps_say() -> None:
    overlay = (
        "setup:\n  rubs:\n"
        "    - {site: fender-lip, side: left, grade: 2, when: first drive, cured: no}\n"
    )
    told = headline(case(overlay))
    assert told.word == "touches"
    assert "front fender lip" in told.sentence


def test_a_cured_mark_does_not_touch() -> None:
    overlay = (
        "setup:\n  rubs:\n"
        "    - {site: fender-lip, side: left, grade: 2, when: first drive, cured: yes}\n"
    )
    assert headline(case(overlay)).word != "touches"


def test_a_mark_not_said_to_be_cured_touches() -> None:
    overlay = "setup:\n  rubs:\n    - {site: fender-lip, side: left, grade: 1, when: once}\n"
    assert headline(case(overlay)).word == "touches"


def test_a_clear_word_without_a_number_is_told() -> None:
    told = headline(case())
    assert told.word == "unknown"
    assert "without a number" in told.sentence


@pytest.mark.parametrize(
    ("overlay", "begins"),
    [
        ("setup:\n  withdrawn: {date: 2025-09-01, reason: other hubs}", "Withdrawn"),
        (
            "setup:\n  disputes:\n    - {date: 2025-08-20, member: Wren, claim: it touches}",
            "Disputed",
        ),
    ],
)
def test_withdrawn_and_disputed_records_are_never_clear(overlay: str, begins: str) -> None:
    told = headline(case(overlay))
    assert told.word == "unknown"
    assert told.sentence.startswith(begins)


def test_every_gap_is_shown_beside_what_its_site_wants() -> None:
    found = readings(case())
    assert [each.label for each in found][:2] == ["front strut tube", "front fender lip"]
    assert all(each.wanted is not None for each in found)


@pytest.mark.parametrize(("settled", "word"), [("", "unknown"), (", settled: seen", "clears")])
def test_a_disputed_gap_is_nowhere_shown_as_clear(settled: str, word: str) -> None:
    overlay = (
        "setup:\n  gaps:\n    - {site: strut-tube, side: both, state: static, gap: 9 mm}\n"
        "  disputes:\n    - {date: 2025-08-20, member: Wren, site: strut-tube, claim: it touches"
        f"{settled}}}\n"
    )
    found = {each.site.name: each for each in summaries(case(overlay))}
    assert found["strut-tube"].word == word
    assert [each.word for each in readings(case(overlay))] == [word]


def test_names_of_sites_that_hold_commas_cannot_be_misread_in_a_list() -> None:
    overlay = "setup:\n  rubs:\n" + "".join(
        f"    - {{site: {site}, side: left, grade: 2, when: once, cured: no}}\n"
        for site in ("strut-tube", "fender-lip")
    )
    known = case(overlay)
    sheet = known.chassis
    assert sheet is not None
    sites = tuple(
        site.model_copy(update={"label": f"{site.label}, outer edge"}) for site in sheet.value.sites
    )
    named = replace(known, chassis=replace(
        sheet, value=sheet.value.model_copy(update={"sites": sites})
    ))  # fmt: skip
    told = headline(named)
    names = "front fender lip, outer edge; front strut tube, outer edge"
    assert told.sentence == f"Touches: {names}"
    assert told.reasons[0] == f"{names}: a mark was found: once"


STRUT = "{site: strut-tube, side: both, state: static, gap: 9 mm}"


def test_a_gap_clears_only_where_all_that_is_known_of_its_site_does() -> None:
    lip = STRUT.replace("strut-tube", "fender-lip").replace("9 mm", "60 mm")
    for gaps, words in (
        (lip, ["unknown"]),
        (f"{lip}, {lip.replace('static', 'full bump')}", ["clears", "clears"]),
        (f"{lip}, {lip.replace('static', 'full bump').replace('60 mm', '0 mm')}",
         ["free here", "touches"]),
    ):  # fmt: skip
        assert [each.word for each in readings(case(f"setup: {{gaps: [{gaps}]}}"))] == words


LEFT_STRUT = STRUT.replace("both", "left")
RIGHT_STRUT = STRUT.replace("both", "right")


def test_a_site_seen_on_one_side_alone_is_not_known() -> None:
    known = case(f"setup: {{gaps: [{LEFT_STRUT}]}}")
    (found,) = [each for each in summaries(known) if each.site.name == "strut-tube"]
    assert (found.word, found.gap) == ("unknown", None)
    assert found.reason == "right not looked at; left 9 mm, static"
    (gap,) = readings(known)
    assert (gap.word, gap.asides) == ("free here", ("right not looked at",))


def test_a_body_site_needs_its_travel_on_each_side() -> None:
    lip = LEFT_STRUT.replace("strut-tube", "fender-lip").replace("9 mm", "60 mm")
    right = lip.replace("left", "right")
    bumped = lip.replace("static", "full bump")
    known = case(f"setup: {{gaps: [{bumped}, {right}]}}")
    (found,) = [each for each in summaries(known) if each.site.name == "fender-lip"]
    assert found.word == "unknown"
    assert found.reason == ("right seen with the car standing only; left 60 mm, full bump")
    assert [each.word for each in readings(known)] == ["free here", "unknown"]


def test_both_sides_told_apart_clear_together() -> None:
    known = case(f"setup: {{gaps: [{LEFT_STRUT}, {RIGHT_STRUT}]}}")
    assert [each.word for each in readings(known)] == ["clears", "clears"]
    bare = case(f"setup: {{gaps: [{LEFT_STRUT}, {RIGHT_STRUT.replace('9 mm', 'clears')}]}}")
    (found,) = [each for each in summaries(bare) if each.site.name == "strut-tube"]
    assert found.word == "clears"
    assert found.reason == "9 mm, static; right side: how much room there is, is not known"


@pytest.mark.parametrize(
    ("by", "word", "reason"),
    [
        # The sheet of the example wants 5 mm there: 60 less 56 leaves 4, 60 less 50 leaves 10.
        (56.0, "unknown", "60 mm, full bump; computed 56 mm less at full droop"),
        (50.0, "clears", "60 mm, full bump"),
    ],
)
def test_a_gap_taken_away_from_where_its_site_is_closest(by: float, word: str, reason: str) -> None:
    known = case("setup: {gaps: [{site: fender-lip, side: both, state: full bump, gap: 60 mm}]}")
    (gap,) = known.setup.value.gaps
    elsewhere = replace(known, closer=(Closer(gap, by, "full droop"),))
    (found,) = [each for each in summaries(elsewhere) if each.site.name == "fender-lip"]
    assert (found.word, found.reason) == (word, reason)
    (told,) = readings(elsewhere)
    assert told.word == ("clears" if word == "clears" else "free here")
    assert told.asides == (() if word == "clears" else ("computed 56 mm less at full droop",))


def test_a_gap_taken_where_its_site_is_closest_speaks_for_it() -> None:
    known = case(
        "setup: {gaps: [{site: fender-lip, side: both, state: toe-out lock, gap: 60 mm}, "
        "{site: fender-lip, side: both, state: full bump, gap: 9 mm}]}"
    )
    at_lock, _ = known.setup.value.gaps
    elsewhere = replace(known, closer=(Closer(at_lock, 55.0, "full bump"),))
    (found,) = [each for each in summaries(elsewhere) if each.site.name == "fender-lip"]
    assert (found.word, found.reason) == ("clears", "9 mm, full bump")


@pytest.mark.parametrize(("only", "word"), [("left", "clears"), ("both", "unknown")])
def test_a_site_of_one_side_needs_that_side_alone(only: str, word: str) -> None:
    site = (
        "{name: strut-tube, label: strut tube, axle: front, facing: inboard, moves_with: knuckle, "
        f"only: {only}, reach: {{radius: 200 mm}}, wanted: 5 mm}}"
    )
    known = case(f"chassis: {{sites: [{site}]}}\nsetup: {{gaps: [{LEFT_STRUT}]}}")
    (found,) = summaries(known)
    assert found.word == word


def test_a_gap_without_a_sheet_never_clears() -> None:
    assert {each.word for each in readings(replace(case(), chassis=None))} <= {"unknown", "touches"}


def test_a_gap_that_the_other_records_contradict_is_in_question() -> None:
    known = case(f"setup: {{gaps: [{STRUT}]}}")
    against = Doubt(Axle.FRONT, "strut-tube", "the other records contradict it", "9 mm")
    doubted = replace(known, doubts=(against,))
    (found,) = [each for each in summaries(doubted) if each.site.name == "strut-tube"]
    assert (found.word, found.gap) == ("unknown", None)
    assert found.reason == "in question: the other records contradict it"
    (gap,) = readings(doubted)
    assert (gap.word, gap.asides) == (
        "unknown",
        ("in question: the other records contradict it by 9 mm",),
    )
    assert headline(known).word == headline(doubted).word == "unknown"
    assert headline(doubted).sentence.startswith("In question: front strut tube. ")
    tight = replace(case(f"setup: {{gaps: [{STRUT.replace('9 mm', '1 mm')}]}}"), doubts=(against,))
    assert headline(tight).word == "tight"
    assert headline(tight).sentence.endswith("In question: front strut tube")
