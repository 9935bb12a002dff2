"""JSON Schema of records, held by the jsonschema package against the demo and against slips."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from generator.quantities.units import UNITS
from generator.reading.folder import content_files
from generator.reading.pruning import plain
from generator.reading.source import load
from generator.records.article import split_article
from generator.records.examples import sample
from generator.site.data.record_schema import KINDS, record_schema

DEMO = Path(__file__).resolve().parents[4] / "content_demo"
SCHEMAS = {name: record_schema(title, model, f"https://x/{name}") for name, title, model in KINDS}


def errors(kind: str, data: object) -> list[str]:
    return [each.message for each in Draft202012Validator(SCHEMAS[kind]).iter_errors(data)]


def read(path: str, content: bytes) -> Any:
    source = split_article(path, content)[0] if path.endswith(".md") else load(path, content)[0]
    assert source is not None
    return plain(source.root)


def setup(**changed: object) -> dict[str, Any]:
    data: dict[str, Any] = read("setup.yaml", sample("setup").encode("utf-8"))
    return data | changed


@pytest.mark.parametrize("kind", SCHEMAS)
def test_a_schema_is_one(kind: str) -> None:
    Draft202012Validator.check_schema(SCHEMAS[kind])


def test_all_records_of_the_demo_keep_their_schema() -> None:
    kinds = {"club.yaml": "club", "chassis": "chassis", "setups": "setup", "articles": "article"}
    found, _ = content_files(DEMO)
    assert {kinds[file.path.split("/")[0]] for file in found} == set(SCHEMAS)
    for file in found:
        assert errors(kinds[file.path.split("/")[0]], read(file.path, file.content)) == [], (
            file.path
        )


@pytest.mark.parametrize(
    "changed",
    [
        {"date": "14/06/2025"}, {"chassis": "Ostvane Meridel"}, {"odometer": "148200"},
        {"odometer": "148,200 km"}, {"odometer": "148200 mm"}, {"odometer": 148200},
        {"tittle": "x"}, {"title": ""}, {"gaps": "clears"},
        {"method": {"springs": "removed"}}, {"gaps": [{"site": "strut-tube", "side": "left"}]},
        {"gaps": [{"site": "a", "side": "left", "state": "static", "gap": "plenty"}]},
        {"gaps": [{"site": "a", "side": "left", "state": "static", "gap": "5,5 mm"}]},
    ],
)  # fmt: skip
def test_a_slip_is_shown(changed: dict[str, object]) -> None:
    assert errors("setup", setup()) == []
    assert errors("setup", setup(**changed))


@pytest.mark.parametrize(
    "gap",
    ["6 mm", "4 to 5 mm", "more than 10 mm", "clears", "touches", "not checked", "3/8 in",
     "0.25 in", ".5 in", "-2 mm"],
)  # fmt: skip
def test_every_way_to_write_a_gap_is_taken(gap: str) -> None:
    entry = {"site": "a", "side": "left", "state": "static", "gap": gap}
    assert errors("setup", setup(gaps=[entry])) == []


def test_every_spelling_of_a_unit_of_distance_is_taken() -> None:
    for unit in UNITS:
        for spelling in unit.spellings:
            is_distance = unit.dimension.value == "distance"
            assert (errors("setup", setup(odometer=f"5 {spelling}")) == []) == is_distance


def test_a_missing_field_is_shown() -> None:
    data = setup()
    del data["member"]
    assert any("member" in message for message in errors("setup", data))


def test_every_field_says_what_it_is() -> None:
    for schema in SCHEMAS.values():
        groups: Any = [schema, *schema["$defs"].values()]  # type: ignore[attr-defined]
        for group in groups:
            assert all(field["description"] for field in group["properties"].values())


def test_every_pattern_is_one_of_ecma_262() -> None:
    # ECMA-262, IdentityEscape with the flag u: what may follow a backslash as itself
    for name, schema in SCHEMAS.items():
        for escape in re.findall(r"\\\\(.)", json.dumps(schema)):
            assert escape in "^$\\.*+?()[]{}|/", f"{name}: {escape}"
