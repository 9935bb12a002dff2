"""Anything at all, thrown at the reading room: always placed faults, never an exception.

In CI the same cases come each time. `GAPBOOK_FUZZ=100000` runs that many cases of each test.
"""

import os
import random
import re
from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.quantities.misread import Misread
from generator.quantities.span import read_coordinate, read_extent, read_gap
from generator.reading import fields
from generator.reading.catalogue import explained
from generator.reading.fault import Fault, has_error
from generator.reading.folder import Found
from generator.reading.report import as_annotations, as_json, as_text
from generator.reading.source import SourceFile, load
from generator.records.codes import all_codes
from generator.records.collect import collect
from generator.records.examples import sample
from generator.records.words import Outcome, State, Tool

CASES = int(os.environ.get("GAPBOOK_FUZZ", "0"))
bounded = settings(
    max_examples=CASES or 150,
    deadline=None,
    derandomize="CI" in os.environ,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)

PATHS = {
    "setup": "setups/ostvane-meridel/copperbill.yaml",
    "chassis": "chassis/ostvane-meridel.yaml",
    "club": "club.yaml",
}
SAMPLES = {kind: sample(kind) for kind in PATHS}
SPICE = (
    "&a ", "*a", "<<: ", "!!set ", "- ", "  ", "\t", "\n", "\r\n", ": ", '"', "'", "{", "}", "[",
    "]", "|\n", ">", "#", "---\n", "...\n", "%YAML 1.1\n", "? ", "\ufeff", "\u202e", "\u2028",
    "\x00", "\x1b[31m", "nan", ".inf", "1e400", "-0", "+", "5,5 mm", "1 1/2 in", "9" * 40, "\\",
    "日本", "🚗", "e\u0301", "\ud800", "true", "null", "~", "2024-02-30", "::error::", "${7*7}",
)  # fmt: skip
KNOWN = {code.code for code in all_codes()}


def mutated(text: str, seed: int, times: int) -> str:
    """Cut, double, swap and spice a text at random places."""
    chance = random.Random(seed)
    for _ in range(times):
        at, to = sorted(chance.randrange(len(text) + 1) for _ in range(2))
        to = min(to, at + chance.choice((1, 1, 3, 20, 200)))
        kind = chance.randrange(5)
        if kind == 0:
            text = text[:at] + text[to:]
        elif kind == 1:
            text = text[:to] + text[at:to] + text[to:]
        elif kind == 2:
            words = re.findall(r"\S+", text) or [""]
            text = text.replace(chance.choice(words), chance.choice(words), 1)
        else:
            text = text[:at] + chance.choice(SPICE) + text[to if kind == 3 else at :]
    return text


def assert_placed(faults: tuple[Fault, ...], path: str, content: bytes) -> None:
    lines = content.decode("utf-8", "replace").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    for fault in faults:
        place = fault.place
        assert place.path == path
        assert 1 <= place.line <= len(lines) + 1
        assert 1 <= place.column <= place.end_column
        assert place.column <= len(lines[min(place.line, len(lines)) - 1]) + 3
        assert fault.headline
        assert fault.code in KNOWN
    as_annotations(faults)
    as_json(faults)
    told = as_text(faults)
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f\u2028\u202e\ud800-\udfff]", told)


@bounded
@given(st.binary(max_size=400) | st.text(max_size=300).map(lambda text: text.encode()))
def test_any_bytes_give_a_file_or_a_placed_error(content: bytes) -> None:
    source, faults = load("x.yaml", content)
    assert_placed(faults, "x.yaml", content)
    assert (source is None) == has_error(faults)


@bounded
@given(st.text(st.sampled_from("ab:-?&*!|>%@`'\"{}[],# \n\t~<=.1"), max_size=60))
def test_any_signs_of_yaml_give_a_file_or_a_placed_error(text: str) -> None:
    source, faults = load("x.yaml", text.encode())
    assert_placed(faults, "x.yaml", text.encode())
    if source is not None:
        assert_places_exist(source)


def assert_places_exist(source: SourceFile) -> None:
    lines = source.text.split("\n")
    for name in source.root.entries:
        for place in (source.place((name,)), source.key_place((name,)), source.place((name, 3))):
            assert 1 <= place.line <= len(lines) + 1
            assert place.column >= 1


@pytest.mark.parametrize("kind", PATHS)
@bounded
@given(seed=st.integers(0, 2**32), times=st.integers(1, 12))
def test_a_mutated_record_gives_placed_faults(kind: str, seed: int, times: int) -> None:
    content = mutated(SAMPLES[kind], seed, times).encode("utf-8", "surrogatepass")
    result = collect([Found(PATHS[kind], content)])
    assert_placed(result.faults, PATHS[kind], content)
    library = result.library
    for filed in (library.club, *library.chassis.values(), *library.setups.values()):
        assert filed is None or filed.is_complete == (not has_error(result.faults))


def readers() -> dict[str, Callable[[str], object]]:
    named = {
        name: getattr(fields, name)
        for name in dir(fields)
        if name.startswith("read_") and callable(getattr(fields, name))
    }
    del named["read_quantity"]  # of a dimension; tested with each of them beside its module
    words = {kind.__name__: fields.choice(kind) for kind in (Outcome, State, Tool)}
    spans = {"coordinate": read_coordinate, "extent": read_extent, "gap": read_gap}
    return {**named, **words, **spans}


READERS = readers()
TYPED = st.text(max_size=80) | st.text(st.sampled_from(" 0123456789.,/-+xRmin\"'°·\n"), max_size=40)


@pytest.mark.parametrize("name", READERS)
@bounded
@given(text=TYPED | st.sampled_from(SPICE) | st.text("ab ", min_size=3990, max_size=5000))
def test_any_text_gives_a_field_a_value_or_a_misread(name: str, text: str) -> None:
    try:
        READERS[name](text)
    except Misread as slip:
        code, at = slip.code, (slip.start, slip.end)
    else:
        return
    assert code in explained()
    assert 0 <= at[0] <= at[1] <= len(text) + 1
