"""From files to a library: each file is what its folder says, and hides no other's faults."""

import random

import pytest

from generator.reading.fault import Severity
from generator.reading.folder import Found
from generator.records.article import LONGEST_ARTICLE
from generator.records.collect import Collected, collect
from generator.records.examples import sample

CHASSIS = "chassis/ostvane-meridel.yaml"
SETUP = "setups/ostvane-meridel/copperbill.yaml"
ARTICLE = "articles/gaps.md"
HEAD = "---\ntitle: Gaps\nsummary: measuring\norder: 10\n---\n"


def collected(**changed: str) -> Collected:
    texts = {
        "club.yaml": sample("club"),
        CHASSIS: sample("chassis"),
        SETUP: sample("setup"),
        ARTICLE: f"{HEAD}Text.\n",
    } | changed
    return collect([Found(path, text.encode("utf-8")) for path, text in texts.items()])


def told(result: Collected) -> list[tuple[str, str, int]]:
    return [(fault.code, fault.place.path, fault.place.line) for fault in result.faults]


def test_good_files_become_a_library() -> None:
    result = collected()
    library = result.library
    assert result.faults == ()
    assert result.files == 4
    assert library.club is not None
    assert list(library.chassis) == ["ostvane-meridel"]
    assert list(library.setups) == ["ostvane-meridel/copperbill"]
    assert list(library.articles) == ["gaps"]
    assert library.unread == frozenset()


def test_the_order_of_the_files_does_not_matter() -> None:
    files = [
        Found(f"setups/ostvane-meridel/{name}.yaml", sample("setup").encode()) for name in "dbca"
    ]
    shuffled = random.Random(7).sample(files, len(files))
    assert list(collect(files).library.setups) == list(collect(shuffled).library.setups)


def test_two_records_of_one_name_at_two_chassis_are_two_records() -> None:
    # Row 66: no name can hide another, since the folder of the chassis is part of it.
    result = collected(**{"setups/brevanor-hallin/copperbill.yaml": sample("setup")})
    assert list(result.library.setups) == [
        "brevanor-hallin/copperbill",
        "ostvane-meridel/copperbill",
    ]


@pytest.mark.parametrize(
    "hostile",
    ["a: &a [*a]", "[" * 5000, "title: !!set {a}", "", "\tx: y", "a: 1\na: 2", "- a", "\x00"],
)
def test_a_file_that_cannot_be_read_leaves_the_others_judged(hostile: str) -> None:
    bad_gap = sample("setup").replace("gap: 9 mm", "gap: 9 mn", 1)
    other = "setups/ostvane-meridel/another.yaml"
    result = collected(**{SETUP: hostile, other: bad_gap})
    (hostile_fault,) = [fault for fault in result.faults if fault.place.path == SETUP]
    assert hostile_fault.code.startswith("Y")
    line = 1 + bad_gap[: bad_gap.index("9 mn")].count("\n")
    assert ("Q03", other, line) in told(result)
    assert result.library.unread == {SETUP}


def test_a_record_with_a_fault_is_kept_without_it_and_marked() -> None:
    text = sample("setup").replace("camber: -1 deg", "camber: -1 dge")
    filed = collected(**{SETUP: text}).library.setups["ostvane-meridel/copperbill"]
    assert not filed.is_complete
    assert filed.value.front.camber is None
    assert filed.value.front.tyre.size is not None


def test_a_record_that_lost_an_item_still_finds_the_lines_of_the_others() -> None:
    text = sample("setup").replace("site: strut-tube, side: both", "site: strut-tube, side: lft")
    filed = collected(**{SETUP: text}).library.setups["ostvane-meridel/copperbill"]
    first = filed.value.gaps[0]
    assert first.site == "fender-lip"
    line = text.split("\n")[filed.place("gaps", 0, "site").line - 1]
    assert "site: fender-lip, side: left" in line


def test_an_article_without_a_head_is_told() -> None:
    assert told(collected(**{ARTICLE: "Just text"})) == [("F12", ARTICLE, 1)]


def test_a_slip_in_the_head_of_an_article_is_told_at_its_line() -> None:
    text = HEAD.replace("order: 10", "order: ten")
    result = collected(**{ARTICLE: text})
    assert told(result) == [("F06", ARTICLE, 4)]
    assert result.library.unread == {ARTICLE}


def test_an_article_with_other_line_ends_is_read() -> None:
    result = collected(**{ARTICLE: f"{HEAD}Text.\n".replace("\n", "\r\n")})
    assert result.library.articles["gaps"].text == "Text.\n"
    assert not any(fault.severity is Severity.ERROR for fault in result.faults)


def test_row_49_an_article_that_is_too_long_is_refused() -> None:
    hostile = HEAD + "[" * LONGEST_ARTICLE
    assert told(collected(**{ARTICLE: hostile})) == [("Y01", ARTICLE, 1)]


@pytest.mark.parametrize("sign", ["\x07", "\u2028", "\ufffe"])
def test_row_60_a_control_character_in_the_text_of_an_article_is_refused(sign: str) -> None:
    (fault,) = collected(**{ARTICLE: f"{HEAD}One.\nTwo{sign}.\n"}).faults
    assert (fault.code, fault.place.line, fault.place.column) == ("Y03", 7, 4)


def test_row_13_an_article_that_is_not_utf_8_is_refused() -> None:
    files = [Found(ARTICLE, HEAD.encode() + "Männer".encode("latin-1"))]
    (fault,) = collect(files).faults
    assert (fault.code, fault.place.line) == ("Y02", 6)
