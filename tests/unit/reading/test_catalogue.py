"""Every fault code: explained, with an example that earns it and one that does not."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.quantities.misread import Explained, Misread
from generator.quantities.quantity import read_quantity
from generator.quantities.span import read_coordinate, read_extent, read_gap
from generator.quantities.units import Dimension
from generator.reading.catalogue import FIELD_CODES, FILE_CODES, explained, severity_of
from generator.reading.fault import Severity
from generator.reading.folder import Found
from generator.reading.source import load
from generator.records.codes import all_codes
from generator.records.collect import collect
from generator.records.examples import example_faults

PACKAGE = Path(__file__).resolve().parents[3] / "generator"
NOT_IN_TEXT = {
    "P01": "it is about a picture and not a text",
    "P02": "it is about a picture and not a text",
    "P03": "it is about a picture and not a text",
    "P04": "it is about a picture and not a text",
    "P05": "it is about a picture and not a text",
    "Y01": "64 KiB are too long to show",
    "Y02": "bytes that are no text cannot be shown",
    "Y13": "thousands of parts are too long to show",
    "Y14": "thousands of characters are too long to show",
    "Y15": "marks and line ends cannot be seen",
    "Y17": "it is about a file that is gone",
    "Y16": "it is about a file and not its text",
}


def ids(code: Explained) -> str:
    return code.code


READERS: dict[str, Callable[[str], object]] = {
    "Q": lambda text: read_quantity(text, Dimension.LENGTH),
    "S01": read_coordinate,
    "S02": read_extent,
    "S03": read_gap,
}


def codes_of_record(fields: str) -> set[str]:
    overlay = "setup:\n" + "\n".join(f"  {line}" for line in fields.split("\n"))
    return {fault.code for fault in example_faults(overlay)}


@pytest.mark.parametrize("code", [code for code in FILE_CODES if code.bad], ids=ids)
def test_the_example_of_a_file_earns_its_code_and_mended_does_not(code: Explained) -> None:
    source, faults = load("x.yaml", code.bad.encode("utf-8"))
    assert (source, [fault.code for fault in faults]) == (None, [code.code])
    source, faults = load("x.yaml", code.good.encode("utf-8"))
    assert source is not None
    assert faults == ()


@pytest.mark.parametrize(
    "code", [code for code in FIELD_CODES if code.bad and code.code != "F12"], ids=ids
)
def test_the_example_of_a_field_earns_its_code_and_mended_does_not(code: Explained) -> None:
    assert code.code in codes_of_record(code.bad)
    assert code.code not in codes_of_record(code.good)


def test_the_example_of_an_article_earns_its_code_and_mended_does_not() -> None:
    code = explained()["F12"]
    for text, expected in ((code.bad, ["F12"]), (code.good, [])):
        found = collect([Found("articles/gaps.md", text.encode("utf-8"))])
        assert [fault.code for fault in found.faults] == expected


NUMBERS = [code for code in explained().values() if code.code[0] in "QS"]


@pytest.mark.parametrize("code", NUMBERS, ids=ids)
def test_the_example_of_a_number_earns_its_code_and_mended_does_not(code: Explained) -> None:
    read = READERS.get(code.code) or READERS[code.code[0]]
    read(code.good)
    if code.code == "Q10":  # a note: read, and told
        assert read_quantity(code.bad, Dimension.LENGTH).canonical == code.good
        assert read_quantity(code.good, Dimension.LENGTH).canonical == code.good
        return
    with pytest.raises(Misread) as caught:
        read(code.bad)
    assert caught.value.code == code.code


def fix_of(code: Explained) -> str:
    read = READERS.get(code.code) or READERS[code.code[0]]
    try:
        read(code.bad)
    except Misread as slip:
        return slip.fix
    return ""


def test_the_fix_of_an_example_is_the_mended_one_where_there_is_a_fix() -> None:
    fixes = {code.code: fix_of(code) for code in NUMBERS}
    good = {code.code: code.good for code in NUMBERS}
    assert {code: good[code] for code, fix in fixes.items() if fix} == {
        code: fix for code, fix in fixes.items() if fix
    }
    assert {"Q03", "Q05", "Q06", "Q07", "Q08", "S02"} <= {c for c, fix in fixes.items() if fix}


@pytest.mark.parametrize("code", explained().values(), ids=ids)
def test_a_code_says_what_why_and_how_to_mend_it(code: Explained) -> None:
    assert re.fullmatch(r"[A-Z][0-9]{2,3}", code.code)
    assert code.title[0].islower()
    assert not code.title.endswith(".")
    assert code.why.endswith(".")
    assert code.mend.endswith(".")
    assert not re.search(r"\b(invalid|illegal|error|wrong!)\b", f"{code.title} {code.why}")
    assert code.bad or code.code in NOT_IN_TEXT or code.code == "Q01"  # its bad text is empty
    assert bool(code.good) == (bool(code.bad) or code.code == "Q01")


def test_every_code_written_anywhere_is_explained() -> None:
    known = {code.code for code in all_codes()}
    used = set()
    for path in PACKAGE.rglob("*.py"):
        used |= set(re.findall(r'"([YFPQSN][0-9]{2,3})"', path.read_text("utf-8")))
    assert used - known == set()
    assert used >= {"Y01", "F12", "Q10", "S03"}


def test_no_two_meanings_share_a_code() -> None:
    codes = [code.code for code in all_codes()]
    assert len(codes) == len(set(codes))


def test_codes_are_in_order() -> None:
    assert list(explained()) == sorted(explained())


@pytest.mark.parametrize(
    ("code", "severity"),
    [("F10", Severity.ERROR), ("F11", Severity.WARNING), ("Q10", Severity.NOTE)],
)
def test_a_code_has_the_severity_of_its_faults(code: str, severity: Severity) -> None:
    bad = {"Q10": "front: {wheel: {offset: +22 mm}}"}.get(code, explained()[code].bad)
    overlay = f"setup:\n  {bad}"
    found = {fault.severity for fault in example_faults(overlay) if fault.code == code}
    assert found == {severity_of(code)} == {severity}
