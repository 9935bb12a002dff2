"""A review says what a change does: looked for are facts that a reader can work out by hand.

Positions by hand: backspacing and offset of the sample are typed; a spacer of 5 mm takes 5 mm from
the effective offset (definition, ISO 3911 and the trade's common use). One mm is 1/25.4 in.
"""

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from markdown_it import MarkdownIt

from generator.editions import review_of
from generator.evidence.confidence import RecordFlag
from generator.reading.trouble import GuideError
from generator.review.annotations import annotations
from generator.review.as_json import as_json
from generator.review.fields import FieldChange
from generator.review.markdown import LARGEST, as_markdown
from generator.review.review import Review
from generator.review.tables import SAMPLE, sampled
from tests.processor import at_most

TODAY = date(2026, 1, 15)


def reviewed(club: Any, head: str | None = None) -> Review:
    return review_of(club.content, "main", head, today=TODAY)[0]


def test_nothing_changed_says_so(club: Any) -> None:
    found = reviewed(club)
    assert not found.changes_numbers
    assert found.files == ()
    assert "**No published number changes.**" in as_markdown(found)


def test_a_changed_word_changes_no_number(club: Any) -> None:
    club.edit(club.setup, ("Invented, for the examples.", "Invented, for the example."))
    found = reviewed(club)
    assert not found.changes_numbers
    assert [(each.where, each.old, each.new) for each in found.files[0].fields] == [
        ("notes", "Invented, for the examples.\n", "Invented, for the example.\n")
    ]
    assert "No published number changes" in as_markdown(found)
    assert "setups/ostvane-meridel/copperbill-seven-inch.html" in found.pages.changed


def test_a_spacer_moves_what_it_moves(club: Any) -> None:
    spacer = "  camber: -1 deg\n  spacer: {thickness: 5 mm, kind: slip-on, material: aluminium}\n"
    club.edit(club.setup, ("  camber: -1 deg\n", spacer))
    found = reviewed(club)
    assert found.changes_numbers
    moved = {each.label: each for each in found.files[0].computed}
    offset = moved["front: effective offset, spacer counted"]
    assert offset.old is not None
    assert offset.new is not None
    assert offset.old.value - offset.new.value == pytest.approx(5.0)
    assert not any(label.startswith("rear") for label in moved)


def test_fields_are_told_in_both_units(club: Any) -> None:
    club.edit(club.setup, ("tread_width: 170 mm", "tread_width: 127 mm"))
    text = as_markdown(reviewed(club))
    assert "`170 mm (6.693 in)`" in text  # 170 / 25.4
    assert "`127 mm (5.000 in)`" in text


def test_a_moved_gap_moves_its_limit_and_names_its_record(club: Any) -> None:
    club.edit(club.setup, ("state: full bump, gap: 9 mm", "state: full bump, gap: 14 mm"))
    found = reviewed(club)
    assert {(each.key.site, each.key.side.value) for each in found.limits} == {
        ("fender-lip", "left")
    }
    move = found.limits[0]
    assert move.causes == ("ostvane-meridel/copperbill-seven-inch",)
    assert not move.by_sheet
    # More room was measured, so the limit rises, and by no more than the measurement did.
    assert 0.0 < move.shift <= 5.0
    assert {each.where for each in found.files[0].fields} == {
        "gaps [fender-lip, left, full bump] gap"
    }


def test_a_first_record_is_coverage(club: Any, other_record: Callable[..., str]) -> None:
    club.git("rm", "-q", club.setup)
    club.commit()
    club.write(club.other, other_record())
    found = reviewed(club)
    assert {each.label for each in found.coverage if each.is_gained} >= {
        "fender lip", "strut tube", "inner wheelhouse"
    }  # fmt: skip


def test_deleting_the_last_record_loses_coverage_and_an_address(club: Any) -> None:
    (club.folder / club.setup).unlink()
    found = reviewed(club)
    assert found.coverage
    assert not any(each.is_gained for each in found.coverage)
    assert "setups/ostvane-meridel/copperbill-seven-inch.html" in found.pages.removed
    text = as_markdown(found)
    assert "should never die" in text
    assert found.files[0].kind == "deleted"


@pytest.mark.parametrize("leads_on", [False, True])
def test_row_91_a_published_page_may_end_only_where_its_address_leads_on(
    club: Any, other_record: Callable[..., str], leads_on: bool
) -> None:
    club.write(club.other, other_record())
    club.commit()
    (club.folder / club.setup).unlink()
    if leads_on:
        way = club.setup.removeprefix("guide/").removesuffix(".yaml")
        moved = f"moved:\n  - {{old: {way}, new: setups/ostvane-meridel/fernhollow-seven-inch}}\n"
        club.write("guide/club.yaml", club.read("guide/club.yaml") + moved)
    told = [(fault.code, fault.place.path) for fault in reviewed(club).errors]
    ended = ("Y17", club.setup.removeprefix("guide/"))
    assert told == ([] if leads_on else [ended])


def test_row_91_a_withdrawn_record_keeps_its_page(club: Any) -> None:
    text = club.read(club.setup)
    gone = "withdrawn: {date: 2025-09-01, reason: the car had other hubs}\n"
    club.write(club.setup, text + gone)
    found = reviewed(club)
    assert not found.errors
    assert not found.pages.removed


def test_a_new_photo_is_judged_and_one_that_was_there_is_not_read_again(club: Any) -> None:
    folder = club.content / "photos/ostvane-meridel/copperbill-seven-inch"
    folder.mkdir(parents=True)
    (folder / "kept.jpg").write_bytes(b"no picture, and published long ago")
    text = club.read(club.setup)
    shown = "photos:\n  - {file: kept.jpg, alt: a gauge at the strut}\n"
    club.write(club.setup, text + shown)
    club.commit()
    assert reviewed(club, head="main").errors == ()
    club.branch("request")
    (folder / "new.jpg").write_bytes(b"<svg onload=alert(1)>")
    club.commit()
    found = reviewed(club, head="request")
    assert [(fault.code, fault.place.path.rpartition("/")[2]) for fault in found.errors] == [
        ("P02", "new.jpg")
    ]


def test_a_record_that_contradicts_many_is_doubted(
    club: Any, other_record: Callable[..., str]
) -> None:
    for number in range(4):
        club.write(
            f"guide/setups/ostvane-meridel/car-{number}.yaml",
            other_record().replace("fernhollow-coupe", f"coupe-{number}"),
        )
    club.commit()
    text = other_record().replace("fernhollow-coupe", "odd-coupe")
    club.write(club.other, text.replace("state: static, gap: 9 mm", "state: static, gap: 60 mm"))
    found = reviewed(club)
    own = [each for each in found.doubts if each.setup.endswith("fernhollow-seven-inch")]
    assert {each.site for each in own} == {"strut-tube"}
    # Five cars read 9 mm; the expected range holds it and not the 60 mm.
    assert own[0].expected_low < 9.0 < own[0].expected_high < 60.0
    change = next(each for each in found.files if each.path.endswith("fernhollow-seven-inch.yaml"))
    assert change.flag is RecordFlag.IN_QUESTION
    assert change.asks[0].startswith("measure strut tube")


def test_a_copy_is_a_near_duplicate(club: Any, other_record: Callable[..., str]) -> None:
    club.write(club.other, other_record(("pressure: 2.0 bar", "pressure: 2.1 bar")))
    found = reviewed(club)
    assert [(each.setup, each.other, each.same_car) for each in found.duplicates] == [
        ("ostvane-meridel/fernhollow-seven-inch", "ostvane-meridel/copperbill-seven-inch", False)
    ]
    assert set(found.duplicates[0].differ) == {"front tyre pressure", "rear tyre pressure"}


def test_a_raised_flag_has_its_reason(club: Any) -> None:
    club.edit(club.setup, ("road:\n", "confirmations:\n  - {member: Fernhollow, "
              "date: 2025-07-02, how: fitted to another car}\nroad:\n"))  # fmt: skip
    found = reviewed(club)
    assert len(found.flags) == 1
    assert found.flags[0].new is RecordFlag.PROVEN
    assert not found.flags[0].is_lower
    assert "Fernhollow" in found.flags[0].reason


def test_a_sheet_that_changes_is_named_as_the_cause(club: Any) -> None:
    sheet = "guide/chassis/ostvane-meridel.yaml"
    text = club.read(sheet)
    at = text.index("label: strut tube")
    club.write(sheet, text[:at] + text[at:].replace("wanted: ", "spread: 1 mm\n    wanted: ", 1))
    found = reviewed(club)
    assert any(each.by_sheet and each.key.site == "strut-tube" for each in found.limits)


def test_errors_come_first_and_the_rest_is_still_judged(
    club: Any, other_record: Callable[..., str]
) -> None:
    club.edit(club.setup, ("offset: 22 mm", "offset: 22"))
    club.write(club.other, other_record())
    found = reviewed(club)
    assert {each.code for each in found.errors} == {"Q08"}
    text = as_markdown(found)
    assert text.index("cannot be published yet") < text.index("## File by file")
    assert any(each.kind == "new" and each.flag for each in found.files)


def test_a_club_that_cannot_be_read_leaves_the_faults(club: Any) -> None:
    club.write("guide/club.yaml", "name: [\n")
    found = reviewed(club)
    assert found.errors
    assert "cannot be published yet" in as_markdown(found)


def test_an_empty_folder_is_told(club: Any) -> None:
    club.git("rm", "-rq", "guide")
    club.content.mkdir()
    with pytest.raises(GuideError, match="no records"):
        reviewed(club)


def test_a_request_is_judged_as_merged(club: Any, other_record: Callable[..., str]) -> None:
    club.branch("request")
    club.write(club.other, other_record())
    club.write("generator/evil.py", "import os\n")
    club.commit()
    club.git("checkout", "-q", "main")
    club.edit(club.setup, ("Invented, for the examples.", "Changed since."))
    club.commit()
    found = reviewed(club, "request")
    # What the published branch gained since is no part of the request.
    assert [each.path for each in found.files] == [
        "setups/ostvane-meridel/fernhollow-seven-inch.yaml"
    ]
    assert found.outside == ("generator/evil.py",)
    assert "a maintainer has to read them as code" in as_markdown(found)
    assert not (club.folder / "generator").exists()


HOSTILE = "a | b `c` ``d`` <img src=x onerror=alert(1)> [x](javascript:y) **z** ::error::q @m #1"


def test_hostile_text_stays_text_in_the_report(club: Any) -> None:
    quoted = HOSTILE.replace("'", "''")
    club.edit(
        club.setup,
        ("title: Seven-inch wheels with the fender lips rolled", f"title: '{quoted}'"),
        ("  - full load with passengers", f"  - '{quoted}'"),
    )
    found = reviewed(club)
    text = as_markdown(found)
    assert not any(line.lstrip().startswith("::") for line in text.splitlines())
    parser = MarkdownIt("commonmark", {"html": True}).enable("table").enable("strikethrough")
    for token in parser.parse(text):
        assert token.type != "html_block"
        for child in token.children or ():
            assert child.type not in ("html_inline", "link_open", "image", "s_open")
    widths = set()
    html = parser.render(text)
    for row in html.split("<tr>")[1:]:
        widths.add(row.split("</tr>")[0].count("<td>"))
    assert widths <= {0, 2, 3, 4, 5, 6}
    assert HOSTILE in html.replace("&lt;", "<").replace("&gt;", ">")


def test_report_in_json_is_whole_and_ascii(club: Any) -> None:
    club.edit(club.setup, ("state: full bump, gap: 9 mm", "state: full bump, gap: 14 mm"))
    found = reviewed(club)
    text = as_json(found)
    assert text.isascii()
    told = json.loads(text)
    assert told["version"] == 1
    assert told["changes_numbers"] is True
    assert len(told["limits"]) == len(found.limits)
    assert told["files"][0]["fields"][0]["old"] == "9 mm"


def test_annotations_are_ten_of_a_kind_with_changed_lines_first(
    club: Any, other_record: Callable[..., str]
) -> None:
    for number in range(12):
        club.write(f"guide/setups/ostvane-meridel/a{number:02}.yaml", "title: [\n")
    club.commit()
    club.write(club.other, other_record(("offset: 22 mm", "offset: 22")))
    lines = annotations(reviewed(club), "guide/").splitlines()
    errors = [line for line in lines if line.startswith("::error ")]
    assert len(errors) == 10
    # Two offsets without a unit stand on lines of this change; the twelve broken files do not.
    assert ["fernhollow-seven-inch" in line for line in errors[:3]] == [True, True, False]
    assert all("file=guide/setups/" in line for line in errors)


def test_a_large_request_is_cut_with_counts(club: Any) -> None:
    article = b"---\ntitle: A word\nsummary: One line\norder: 7\n---\n\nText.\n"
    odd = b"title: '" + b"|`<b>" * 20 + b"'\n"
    club.plant(
        "request",
        [("100644", b"guide/articles/a-%04d.md" % number, article) for number in range(2800)]
        + [("100644", b"guide/setups/ostvane-meridel/b-%03d.yaml" % n, odd) for n in range(200)],
    )
    with at_most(60.0):
        found = reviewed(club, "request")
        text = as_markdown(found)
    assert len(found.files) == 3000
    assert len(text.encode()) <= LARGEST
    assert "Shown are 15 of 3000 files" in text
    assert f"## {len(found.errors)} errors" in text
    assert f"more of {len(found.errors)}" in text
    assert text == as_markdown(reviewed(club, "request"))


def test_a_report_is_never_larger_than_a_forge_takes(club: Any) -> None:
    club.edit(club.setup, ("Invented, for the examples.", "Another word."))
    found = reviewed(club)
    long = "|" * 4000
    files = tuple(
        replace(
            found.files[0],
            path=f"setups/x/{number}.yaml",
            fields=tuple(FieldChange(f"{at} {long}", long, long, None) for at in range(40)),
            asks=(long,) * 8,
        )
        for number in range(15)
    )
    text = as_markdown(replace(found, files=files, outside=(long,) * 5000))
    assert len(text.encode()) <= LARGEST


def test_the_sample_is_drawn_by_all_names_together() -> None:
    names = [f"record-{number}" for number in range(200)]
    drawn = sampled(names, str)
    assert len(drawn) == SAMPLE
    assert drawn == sampled(names[::-1], str)
    assert drawn != sampled([*names, "one-more"], str)
