"""The four forms of a list of faults: they carry the same list, and members' text stays inert."""

import json
import re
from urllib.parse import unquote

import pytest

from generator.reading.fault import Fault, Mark, Place, Severity
from generator.reading.report import as_annotations, as_json, as_sarif, as_text, summary
from generator.reading.source import load

ODD_PATH = "odd,name:100%\r\n::stop-commands::t.yaml"


def explain(code: str) -> tuple[str, str]:
    return f"title of {code}", f"meaning of {code}"


def fault(
    path: str = "a.yaml",
    *,
    at: tuple[int, int, int] = (3, 5, 9),
    excerpt: str = "",
    severity: Severity = Severity.ERROR,
    headline: str = "`x` is odd",
    code: str = "F06",
) -> Fault:
    line, column, end = at
    place = Place(path, line, column, line, end, excerpt)
    return Fault(code, severity, headline, place, "a number", "numbers are compared", "write `1`")


def of_text(text: str, route: tuple[str, ...], start: int, end: int) -> list[str]:
    """Give the two drawn lines for some characters of a value."""
    source, _ = load("x.yaml", text.encode("utf-8"))
    assert source is not None
    told = as_text([Fault("F06", Severity.ERROR, "odd", source.place(route, start, end))])
    return told.split("\n")[1:3]


def test_a_fault_is_told_with_place_line_caret_reason_and_fix() -> None:
    told = as_text([fault(excerpt="a: b x y")])
    assert told == (
        "a.yaml:3:5: error[F06]: `x` is odd\n"
        "3 | a: b x y\n"
        "  |     ^^^^ a number\n"
        "   = why: numbers are compared\n"
        "   = fix: write `1`"
    )


@pytest.mark.parametrize(
    ("text", "start", "end", "under"),
    [
        ("gap: 4 to 5 xx", 7, 9, "xx"),
        ('gap: "4 to 5 xx"', 7, 9, "xx"),
        ("gap: ééé 5 xx", 6, 8, "xx"),
        ("gap: a" + " b" * 100 + " xx" + " c" * 100, 202, 204, "xx"),
        ("gap: a" + " b" * 57 + " xx", 116, 118, "xx"),
    ],
)
def test_the_caret_stands_under_the_characters(text: str, start: int, end: int, under: str) -> None:
    line, pointer = of_text(text, ("gap",), start, end)
    first, last = pointer.index("^"), pointer.rindex("^") + 1
    assert line[first:last] == under
    assert len(line) <= 140


def test_the_caret_counts_wide_letters_twice_and_accents_not() -> None:
    # East Asian letters take two columns of a terminal (Unicode Standard Annex 11), accents none.
    line, pointer = of_text("gap: 日本e\u0301 xx", ("gap",), 5, 7)
    assert line.index("xx") == pointer.index("^") - 2 + 1
    assert pointer.count("^") == 2


def test_a_place_beyond_the_picture_of_its_line_is_told_without_caret() -> None:
    told = as_text([fault(at=(1, 500, 502), excerpt="a" * 400)])
    assert "^" not in told
    assert "= expected: a number" in told


def test_a_second_place_is_drawn_with_its_words_and_file() -> None:
    also = (Mark(Place("b.yaml", 7, 1, 7, 4, "car: y"), "first written here"),)
    first = fault(excerpt="car: x")
    told = as_text([Fault("Y08", Severity.ERROR, "twice", first.place, also=also)])
    assert "  --> b.yaml:7\n7 | car: y\n  | ^^^ first written here" in told


HOSTILE = (
    "::error file=x::all good",
    "::add-mask::a",
    "::stop-commands::t",
    "a\n::error::b",
    "a\r\n::error::b",
    "100% of %0A",
    "\x1b[31mred",
    "a\u202eb",
    "| a | b |\n|---|---|",
    "<img src=x onerror=alert(1)>",
)


@pytest.mark.parametrize("words", HOSTILE)
def test_row_55_a_text_can_neither_speak_to_a_log_nor_colour_it(words: str) -> None:
    odd = fault(headline=f"`{words}` is odd", path=f"{words}.yaml", excerpt=f"title: {words}")
    text = as_text([odd])
    note = as_annotations([odd])
    for told in (text, note):
        assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028\u202e]", told)
        assert not any(line.startswith("::") for line in told.split("\n")[1:])
    assert text.startswith(words[:1].replace("\x1b", "\\u001b"))
    assert note.count("\n") == 0


def test_row_55_the_parts_of_an_annotation_cannot_be_left() -> None:
    told = as_annotations([fault(path=ODD_PATH, headline="50% of a,b: c\r\nd")])
    match = re.fullmatch(
        r"::error file=([^:,\r\n]*),line=3,col=5,endLine=3,endColumn=9,title=F06::([^\r\n]*)", told
    )
    assert match is not None
    assert match[1] == "odd%2Cname%3A100%25%0D%0A%3A%3Astop-commands%3A%3At.yaml"
    assert match[2].startswith("50%25 of a,b: c\\")


def test_annotations_begin_with_the_errors() -> None:
    # A forge shows only the first few of each kind; what stops the build has to be among them.
    many = [
        fault(severity=severity, code=f"F0{n}")
        for n, severity in enumerate((Severity.NOTE, Severity.ERROR, Severity.WARNING))
    ]
    commands = [line.split(" ")[0] for line in as_annotations(many).split("\n")]
    assert commands == ["::error", "::warning", "::notice"]


def test_json_has_the_described_shape() -> None:
    also = (Mark(Place("b.yaml", 7), "here"),)
    first = fault()
    rows = json.loads(as_json([first, Fault("Y08", Severity.NOTE, "x", first.place, also=also)]))
    assert rows["version"] == 1
    for row in rows["faults"]:
        assert set(row) == {
            "code", "severity", "headline", "path", "line", "column", "end_line", "end_column",
            "expected", "why", "fix", "also",
        }  # fmt: skip
        assert row["severity"] in ("error", "warning", "note")
        assert all(isinstance(row[key], int) for key in ("line", "column", "end_column"))
    assert rows["faults"][1]["also"][0]["label"] == "here"


def test_json_is_plain_ascii_so_that_any_log_can_hold_it() -> None:
    assert as_json([fault(headline="é\u2028\x1b")]).isascii()
    assert as_sarif([fault(headline="é\u2028\x1b")], explain).isascii()


def test_json_refuses_what_is_no_number(monkeypatch: pytest.MonkeyPatch) -> None:
    broken = fault()
    object.__setattr__(broken.place, "line", float("nan"))
    with pytest.raises(ValueError, match="JSON compliant"):
        as_json([broken])


def test_sarif_has_what_version_2_1_0_requires() -> None:
    # OASIS SARIF 2.1.0: 3.13 log, 3.14 run, 3.18 tool, 3.19 driver, 3.27 result, 3.30 region.
    log = json.loads(as_sarif([fault(), fault(code="F01"), fault(path=ODD_PATH)], explain))
    assert log["version"] == "2.1.0"
    assert log["$schema"].endswith("sarif-schema-2.1.0.json")
    (run,) = log["runs"]
    driver = run["tool"]["driver"]
    assert driver["name"] == "gapbook"
    assert [rule["id"] for rule in driver["rules"]] == ["F01", "F06"]
    assert run["columnKind"] in ("utf16CodeUnits", "unicodeCodePoints")
    for result in run["results"]:
        assert driver["rules"][result["ruleIndex"]]["id"] == result["ruleId"]
        assert result["level"] in ("none", "note", "warning", "error")
        assert result["message"]["text"]
        (location,) = result["locations"]
        physical = location["physicalLocation"]
        # RFC 3986: what is no letter of an address is escaped.
        assert re.fullmatch(r"[A-Za-z0-9._~/%-]+", physical["artifactLocation"]["uri"])
        region = physical["region"]
        assert 1 <= region["startLine"] <= region["endLine"]
        assert 1 <= region["startColumn"] < region["endColumn"]


def places_in_text(told: str) -> set[tuple[str, str, int, int]]:
    found = re.findall(r"^(.+):(\d+):(\d+): \w+\[(\w+)\]: ", told, re.MULTILINE)
    return {(code, path, int(line), int(column)) for path, line, column, code in found}


def places_in_annotations(told: str) -> set[tuple[str, str, int, int]]:
    found = re.findall(r"^::\w+ file=([^,]+),line=(\d+),col=(\d+),.*,title=(\w+)::", told, re.M)
    return {(code, unquote(path), int(line), int(column)) for path, line, column, code in found}


def places_in_sarif(told: str) -> set[tuple[str, str, int, int]]:
    found = set()
    for result in json.loads(told)["runs"][0]["results"]:
        physical = result["locations"][0]["physicalLocation"]
        region = physical["region"]
        path = unquote(physical["artifactLocation"]["uri"])
        found.add((result["ruleId"], path, region["startLine"], region["startColumn"]))
    return found


def test_all_four_forms_carry_the_same_faults() -> None:
    faults = [
        fault(),
        fault("setups/a, b: 100%/c d.yaml", at=(12, 1, 4), code="Q05"),
        fault("é.yaml", severity=Severity.WARNING, code="R12"),
        fault(at=(9, 30, 31), severity=Severity.NOTE, code="Q10", excerpt="a: b"),
    ]
    expected = {(f.code, f.place.path, f.place.line, f.place.column) for f in faults}
    rows = json.loads(as_json(faults))["faults"]
    assert {(r["code"], r["path"], r["line"], r["column"]) for r in rows} == expected
    assert places_in_text(as_text(faults)) == expected
    assert places_in_annotations(as_annotations(faults)) == expected
    assert places_in_sarif(as_sarif(faults, explain)) == expected


def test_no_fault_at_all_is_said_in_each_form() -> None:
    assert as_text([]) == as_annotations([]) == ""
    assert json.loads(as_json([])) == {"version": 1, "faults": []}
    assert json.loads(as_sarif([], explain))["runs"][0]["results"] == []


@pytest.mark.parametrize(
    ("severities", "files", "told"),
    [
        ((), 1, "1 file read: no faults"),
        ((Severity.ERROR,), 2, "2 files read: 1 error"),
        ((Severity.NOTE, Severity.ERROR, Severity.ERROR), 3, "3 files read: 2 errors, 1 note"),
    ],
)
def test_the_summary_counts_files_and_faults(
    severities: tuple[Severity, ...], files: int, told: str
) -> None:
    assert summary([fault(severity=severity) for severity in severities], files) == told
