"""The stream of YAML: what is refused, where, and how fast. Hostile rows carry their numbers."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from generator.reading.catalogue import FILE_CODES
from generator.reading.decoding import LARGEST
from generator.reading.fault import Fault, Severity
from generator.reading.source import (
    DEEPEST,
    MOST_FIELDS,
    MOST_ITEMS,
    Mapping,
    Scalar,
    SourceFile,
    load,
)
from tests.processor import at_most

ROOT = Path(__file__).resolve().parents[3]
AT_ONCE = 0.2
"""Seconds: the limit set for every hostile row."""

ALIAS_BOMB = "a0: &a0 [x,x,x,x,x]\n" + "".join(
    f"a{n}: &a{n} [*a{n - 1},*a{n - 1},*a{n - 1},*a{n - 1},*a{n - 1}]\n" for n in range(1, 11)
)
MERGE_BOMB = "m0: &m0 {k: v}\n" + "".join(
    f"m{n}: &m{n} {{<<: [*m{n - 1}, *m{n - 1}]}}\n" for n in range(1, 23)
)

ANYWHERE = 0

# Input, code, line, column. The row numbers are those of the threat list that this guide answers.
REFUSED: dict[str, tuple[bytes | str, str, int, int]] = {
    "row 1: ten-level alias bomb": (ALIAS_BOMB, "Y06", 1, 5),
    "row 2: merge-key doubling": (MERGE_BOMB, "Y06", 1, 5),
    "row 2: a merge key alone": ("a: 1\n<<: {b: 2}", "Y06", 2, 1),
    "row 3: a list that holds itself": ("title: &a [*a]", "Y06", 1, 8),
    "row 3: an alias of nothing": ("title: *a", "Y06", 1, 8),
    "row 4: a key twice at the top": ("title: a\ncar: b\ntitle: c", "Y08", 3, 1),
    "row 4: a key twice in a group": ("front:\n  tyre: a\n  tyre: b", "Y08", 3, 3),
    "row 4: a key twice, once quoted": ('title: a\n"title": b', "Y08", 2, 1),
    "row 5: a number as key": ("1: a", "Y09", 1, 1),
    # A quoted "1" is text to YAML; no field has a number for a name, so it is refused alike.
    "row 5: a number as quoted key": ('"1": a', "Y09", 1, 1),
    "row 6: 500 brackets": ("a: " + "[" * 500 + "]" * 500, "Y12", 1, 4 + DEEPEST - 1),
    # Here the parser's own look ahead stops first, at a depth that differs by its version.
    "row 6: 20,000 brackets": ("[" * 20_000, "Y12", 1, ANYWHERE),
    "row 6: 20,000 braces": ("{" * 20_000, "Y12", 1, ANYWHERE),
    "row 6: nested dashes": ("a:\n" + "- " * 400 + "x", "Y12", 2, 2 * DEEPEST - 1),
    "row 7: 1 MB": (b"title: a\n" + b"# more\n" * 150_000, "Y01", 1, 1),
    "row 7: one byte too many": (b"title: a\n".ljust(LARGEST + 1, b"#"), "Y01", 1, 1),
    "row 8: a tag of one's own": ("title: !wide x", "Y07", 1, 8),
    "row 8: a Python object": ("a: 1\nb: !!python/object/apply:os.system [id]", "Y07", 2, 4),
    "row 8: !!binary": ("title: !!binary V2lkZQ==", "Y07", 1, 8),
    "row 8: !!set": ("title: !!set {a}", "Y07", 1, 8),
    "row 8: a tag that is not closed": ("title: !<", "Y07", 1, 10),
    "row 9: two documents": ("title: a\n---\ntitle: b", "Y10", 2, 1),
    "row 9: a directive": ("%YAML 1.1\n---\ntitle: a", "Y10", 1, 1),
    "row 9: a directive of another YAML": ("%YAML 2.0\n---\ntitle: a", "Y10", 1, 1),
    "row 10: an empty file": ("", "Y11", 1, 1),
    "row 10: only comments": ("# nothing\n# here\n", "Y11", 1, 1),
    "row 10: only a fence": ("---\n", "Y11", 2, 1),
    "row 10: a list": ("- a\n- b", "Y11", 1, 1),
    "row 10: a text": ("just words", "Y11", 1, 1),
    "row 11: a tab": ("front:\n\ttyre: a", "Y05", 2, 1),
    "row 11: a tab after blanks": ("front:\n  a: b\n  \ttyre: a", "Y05", 3, 3),
    "row 13: UTF-16": ("title: a".encode("utf-16"), "Y02", 1, 1),
    "row 13: Latin-1": ("a: b\ntitle: Männer".encode("latin-1"), "Y02", 2, 9),
    "row 13: broken UTF-8 after a letter of two bytes": ("é: ".encode() + b"\xff", "Y02", 1, 4),
    "row 13: broken UTF-8 behind line ends of another system": (b"a: b\rc: \xff", "Y02", 2, 4),
    "row 13: a NUL byte": (b"title: a\x00b", "Y03", 1, 9),
    "row 14: a lone surrogate": (r'title: "\ud800"', "Y04", 1, 11),
    "row 14: a lone surrogate as bytes": (b"title: \xed\xa0\x80", "Y02", 1, 8),
    "row 15: next line": ("title: a\x85b", "Y03", 1, 9),
    "row 15: line separator": ("title: a\u2028b", "Y03", 1, 9),
    "row 15: next line as an escape": (r'title: "a\Nb"', "Y03", 1, 8),
    "row 16: a list as key": ("? [a, b]\n: c", "Y09", 1, 3),
    "row 16: an empty key": ("a: 1\n? \n: c", "Y09", 2, 2),
    "row 16: no key": ("a: 1\n: c", "Y04", 2, 1),
    "row 16: a key of two lines": ("? |\n  a\n  b\n: c", "Y09", 1, 3),
    "row 39: 1,000 measurements": ("gaps:\n" + "- {gap: 9 mm}\n" * 1000, "Y13", 302, 3),
    "row 39: 1,000 fields": ("".join(f"f{n}: a\n" for n in range(1000)), "Y13", 101, 1),
    "row 53: a terminal's colour": (b"title: \x1b[31mred", "Y03", 1, 8),
    "row 53: a terminal's colour as an escape": (r'title: "\e[31mred"', "Y03", 1, 8),
    "row 54: one text of 10,000 characters": ("title: " + "w" * 10_000, "Y14", 1, 8),
    "row 60: a control character": (b"title: \x07", "Y03", 1, 8),
    "row 60: U+FFFE": ("title: a\ufffe", "Y03", 1, 9),
    "row 60: DEL": (b"title: a\x7f", "Y03", 1, 9),
    "row 61: a truth word as key": ("true: a", "Y09", 1, 1),
    "a colon in a text": ("title: a: b", "Y04", 1, 9),
    "a quote left open": ('title: "a\ncar: b\n', "Y04", 3, 1),
    "a bracket left open": ("title: [a\ncar: b", "Y04", 2, 4),
    "a line without a colon": ("title: a\ncar\nmember: b", "Y04", 3, 1),
    "an item out of line": ("gaps:\n  - a\n - b", "Y04", 3, 2),
    "a field out of line": ("title: a\n  car: b", "Y04", 2, 6),
    "a sign that YAML keeps": ("title: @wide", "Y04", 1, 8),
    "a backslash in double quotes": (r'title: "C:\wheels"', "Y04", 1, 11),
}  # fmt: skip


def as_bytes(text: bytes | str) -> bytes:
    return text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass")


def errors(faults: tuple[Fault, ...]) -> list[Fault]:
    return [fault for fault in faults if fault.severity is Severity.ERROR]


def loaded(text: bytes | str) -> SourceFile:
    source, _ = load("x.yaml", as_bytes(text))
    assert source is not None
    return source


@pytest.mark.parametrize("row", REFUSED)
def test_a_hostile_file_is_refused_at_once_in_its_place_with_reason_and_fix(row: str) -> None:
    text, code, line, column = REFUSED[row]
    with at_most(AT_ONCE):
        source, faults = load("x.yaml", as_bytes(text))
    assert source is None
    (fault,) = errors(faults)
    place = fault.place
    assert (fault.code, place.line, place.path) == (code, line, "x.yaml")
    assert place.column == (column or place.column) > 0
    assert fault.headline
    assert fault.expected or fault.fix or fault.code in ("Y11", "Y08")
    assert not any(word in fault.headline for word in ("invalid", "illegal", "token", "node"))


MEASURED = """\
import resource, sys
from generator.cli import main
status = main(["check", "--format", "json", sys.argv[1]])
sys.stdout.flush()
used = resource.getrusage(resource.RUSAGE_SELF)
# Not ru_maxrss, which begins with what the parent held when it started this program.
peak = next(line for line in open("/proc/self/status") if line.startswith("VmHWM"))
print(used.ru_utime + used.ru_stime, peak.split()[1], file=sys.stderr)
sys.exit(status)
"""


def test_all_hostile_files_in_one_guide_are_told_within_two_seconds_and_256_mb(
    tmp_path: Path,
) -> None:
    folder = tmp_path / "setups" / "ostvane-meridel"
    folder.mkdir(parents=True)
    for count, (text, *_) in enumerate(REFUSED.values()):
        (folder / f"hostile-{count}.yaml").write_bytes(as_bytes(text))
    done = subprocess.run(
        [sys.executable, "-c", MEASURED, str(tmp_path)],
        capture_output=True, text=True, check=False, env={**os.environ, "PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    assert done.returncode == 1
    told = {row["path"].rsplit("/", 1)[1] for row in json.loads(done.stdout)["faults"]}
    assert told >= {f"hostile-{count}.yaml" for count in range(len(REFUSED))}
    # Processor time, since a shared machine says nothing by the clock.
    seconds, megabytes = (float(word) for word in done.stderr.split()[-2:])
    megabytes /= 1024
    print(f"{len(REFUSED)} hostile files: {seconds:.2f} s, {megabytes:.0f} MB")
    assert seconds < 2.0  # the limit of one file, for all of them together
    assert megabytes < 256


def test_a_key_written_twice_shows_both_lines() -> None:
    _, (fault,) = load("x.yaml", b"title: a\ncar: b\ntitle: c")
    assert [(mark.place.line, mark.label) for mark in fault.also] == [(1, "first written here")]


def test_a_byte_that_is_no_text_is_told_by_its_offset() -> None:
    _, (fault,) = load("x.yaml", "title: Männer".encode("latin-1"))
    assert "offset 8" in fault.headline


def test_row_12_a_byte_order_mark_is_skipped_and_told() -> None:
    source, faults = load("x.yaml", b"\xef\xbb\xbftitle: a")
    assert source is not None
    assert [(fault.code, fault.severity) for fault in faults] == [("Y15", Severity.NOTE)]
    assert source.place(("title",)).column == 8


@pytest.mark.parametrize("end", ["\r\n", "\r"])
def test_row_12_line_ends_of_other_systems_are_read_and_told(end: str) -> None:
    source, faults = load("x.yaml", f"title: a{end}car: b{end}".encode())
    assert source is not None
    assert [(fault.code, fault.severity) for fault in faults] == [("Y15", Severity.NOTE)]
    assert (source.place(("car",)).line, source.place(("car",)).excerpt) == (2, "car: b")


def test_a_slip_in_a_file_with_mark_and_line_ends_keeps_its_column_and_the_note() -> None:
    _, faults = load("x.yaml", b"\xef\xbb\xbftitle: a: b\r\n")
    assert [fault.code for fault in faults] == ["Y15", "Y15", "Y04"]
    assert (faults[-1].place.column, faults[-1].place.excerpt) == (9, "title: a: b")


@pytest.mark.parametrize(
    "typed",
    ["010", "12:30", "190:20:30", "NO", "off", "1e3", "0x1F", "1_000", ".nan", "2024-02-30", "~"],
)
def test_row_18_a_value_is_kept_as_typed(typed: str) -> None:
    node = loaded(f"value: {typed}").node(("value",))
    assert isinstance(node, Scalar)
    assert node.text == typed


@pytest.mark.parametrize("digits", [4000, 5000])
def test_row_20_a_long_number_is_only_text_here(digits: int) -> None:
    # Refused by the field that holds it; here no number is made of it, so nothing overflows.
    node = loaded("value: " + "9" * digits).node(("value",))
    assert isinstance(node, Scalar)
    assert len(node.text) == digits


@pytest.mark.parametrize("name", ["items", "keys", "__class__", "__proto__", "constructor"])
def test_row_61_a_key_with_a_programs_name_is_only_a_key(name: str) -> None:
    assert list(loaded(f"{name}: a").root.entries) == [name]


def test_row_62_letters_of_all_scripts_are_read() -> None:
    text = "שלום 日本 🚗 עִ"
    node = loaded(f"title: {text}").node(("title",))
    assert isinstance(node, Scalar)
    assert node.text == text


def test_the_largest_list_and_group_are_read() -> None:
    fields = "".join(f"f{n}: a\n" for n in range(MOST_FIELDS - 1))
    source = loaded(f"{fields}gaps: [{'a,' * MOST_ITEMS}]")
    assert len(source.root.entries) == MOST_FIELDS


def test_every_code_of_a_file_is_earned_or_told_elsewhere() -> None:
    here = {code for _, code, _, _ in REFUSED.values()} | {"Y15"}
    assert {code.code for code in FILE_CODES} - here == {"Y16", "Y17"}  # of folders, tested there


@pytest.mark.parametrize(
    ("text", "route", "at", "under"),
    [
        ("title: Wide and low", ("title",), (1, 8), "Wide and low"),
        ("title:    Wide", ("title",), (1, 11), "Wide"),
        ('title: "a b"', ("title",), (1, 8), '"a b"'),
        ("'title': 'a'", ("title",), (1, 10), "'a'"),
        ("a: {é: 日本, size: 6 x 14}", ("a", "size"), (1, 18), "6 x 14"),
        ("a: {🚗: 🚗🚗, size: 6 x 14}", ("a", "size"), (1, 18), "6 x 14"),
        ("a: [one, two]", ("a", 1), (1, 10), "two"),
        ("a:\n  - one\n  - two", ("a", 1), (3, 5), "two"),
        ("a:\n  b:\n    c: x", ("a", "b", "c"), (3, 8), "x"),
        ("a: {b: 1}", ("a",), (1, 1), "a"),
        ("a:\n- b: 1\n- c: 2", ("a", 1), (3, 3), "c"),
        ("a: x", ("a", "b", 3), (1, 1), "a"),
        ("a: x", ("b",), (1, 1), "a"),
    ],
)
def test_a_value_is_placed_under_its_own_characters(
    text: str, route: tuple[str | int, ...], at: tuple[int, int], under: str
) -> None:
    place = loaded(text).place(route)
    assert (place.line, place.column) == at
    assert place.excerpt[place.column - 1 : place.end_column - 1] == under


@pytest.mark.parametrize(
    ("text", "column", "under"),
    [
        ("gap: 4 to 5 xx", 13, "xx"),
        ('gap: "4 to 5 xx"', 14, "xx"),
        ("gap: '4 to 5 xx'", 14, "xx"),
        ('"gäp": "4 to 5 xx"', 16, "xx"),
    ],
)
def test_characters_of_a_value_are_pointed_at(text: str, column: int, under: str) -> None:
    source = loaded(text)
    (name,) = source.root.entries
    place = source.place((name,), 7, 9)
    assert place.column == column
    assert place.excerpt[place.column - 1 : place.end_column - 1] == under


@pytest.mark.parametrize(
    ("text", "line", "column"),
    [
        ("a: 1\nnotes: |\n  one\n  two\n", 2, 8),
        ("a: 1\nnotes: >-\n  one\n  two\n", 2, 8),
        ("a: 1\nnotes: one\n  two\n", 2, 8),
        (r'notes: "a\tb"'.replace(r"\t", r"\u00e9"), 1, 8),
    ],
)
def test_a_value_that_the_file_shows_otherwise_is_placed_at_its_beginning(
    text: str, line: int, column: int
) -> None:
    place = loaded(text).place(("notes",), 2, 3)
    assert (place.line, place.column) == (line, column)


def test_a_scalar_spans_one_line_of_its_file_at_most() -> None:
    place = loaded("notes: |\n  one\n  two\n").place(("notes",))
    assert (place.line, place.end_line) == (1, 1)


def test_keys_keep_their_order_and_places() -> None:
    source = loaded("b: 1\na:\n  d: 2\n")
    assert list(source.root.entries) == ["b", "a"]
    place = source.key_place(("a", "d"))
    assert (place.line, place.column, place.end_column) == (3, 3, 4)
    assert isinstance(source.node(("a",)), Mapping)
