"""`gapbook try` from the keyboard: tables, JSON after its schema, and faults in one line."""

import json
import shutil
from pathlib import Path

import pytest

from generator.cli import main

ROOT = Path(__file__).resolve().parents[2]
RECORD = "copperbill-first-try"


@pytest.fixture(scope="module")
def content(tmp_path_factory):
    """A club with one chassis and one record, so that the command answers quickly."""
    folder = tmp_path_factory.mktemp("club")
    demo = ROOT / "content_demo"
    shutil.copy(demo / "club.yaml", folder)
    (folder / "chassis").mkdir()
    shutil.copy(demo / "chassis" / "ostvane-meridel.yaml", folder / "chassis")
    setups = folder / "setups" / "ostvane-meridel"
    setups.mkdir(parents=True)
    shutil.copy(demo / "setups" / "ostvane-meridel" / f"{RECORD}.yaml", setups)
    return folder


@pytest.fixture
def attempt(content, capsys):
    def run(*words, chassis="ostvane-meridel"):
        status = main(["try", chassis, "--content", str(content), *words])
        said = capsys.readouterr()
        return status, said.out, said.err

    return run


def check(value, schema, where="$"):
    """A small reader of the schema: types, required and closed groups, enumerations, ranges."""
    kinds = {
        "object": dict,
        "array": list,
        "string": str,
        "number": (int, float),
        "null": type(None),
    }
    kind = schema.get("type")
    if kind:
        names = kind if isinstance(kind, list) else [kind]
        assert any(isinstance(value, kinds[name]) for name in names), (where, value)
    if "enum" in schema:
        assert value in schema["enum"], (where, value)
    if "const" in schema:
        assert value == schema["const"], where
    if isinstance(value, dict):
        assert set(schema["required"]) == set(value) == set(schema["properties"]), where
        for name, inner in schema["properties"].items():
            check(value[name], inner, f"{where}.{name}")
    if isinstance(value, list):
        assert schema.get("minItems", 0) <= len(value) <= schema.get("maxItems", 10**6), where
        for index, each in enumerate(value):
            check(each, schema["items"], f"{where}[{index}]")
    if isinstance(value, float | int):
        assert schema.get("minimum", value) <= value <= schema.get("maximum", value), where


@pytest.fixture(scope="module")
def written(content):
    """What the command writes as JSON and as a table for a setup that touches, taken once."""
    import contextlib
    import io

    said = []
    for form in (["--json"], []):
        out = io.StringIO()
        words = ["try", "ostvane-meridel", "--content", str(content), "--from", RECORD, *form]
        with contextlib.redirect_stdout(out):
            assert main([*words, "--front-offset", "20 mm"]) == 0
        said.append(out.getvalue())
    return json.loads(said[0]), said[1]


def test_json_follows_its_schema(written, capsys):
    assert main(["try", "ostvane-meridel", "--schema"]) == 0
    schema = json.loads(capsys.readouterr().out)
    check(written[0], schema)
    assert written[0]["from"] == f"ostvane-meridel/{RECORD}"


def test_every_site_says_what_it_rests_on(written):
    rests = [site["rests_on"] for axle in written[0]["axles"] for site in axle["sites"]]
    assert any("1 car" in each for each in rests)
    assert any("sheet alone" in each for each in rests)
    assert all("tyre as measured" in each for each in rests)


def test_the_weakest_site_of_an_end_comes_first(written):
    for axle in written[0]["axles"]:
        chances = [site["chance"] for site in axle["sites"]]
        assert chances == sorted(chances)


def test_ranges_rise_and_hold_the_middle(written):
    for axle in written[0]["axles"]:
        for site in axle["sites"]:
            assert site["gap"] == sorted(site["gap"])
            assert site["chance"] <= site["chance_of_any_gap"]


def test_what_touches_has_remedies_and_something_to_measure(written):
    assert written[0]["remedies"]
    assert written[0]["worth_measuring"]
    assert {each["word"] for each in written[0]["remedies"]} <= {"touches", "tight"}


def test_the_table_tells_the_same_in_words(written):
    table = written[1]
    for word in ("touches", "5 to 95 %", "what helps at", "what to measure first", "no approval"):
        assert word in table
    assert "100%" not in table
    assert max(len(line) for line in table.splitlines()) <= 160


def test_an_option_for_one_end_goes_before_that_for_both(attempt):
    status, out, _ = attempt(
        "--both-spacer", "3 mm", "--front-spacer", "5 mm", "--lower", "20 mm", "--json"
    )
    assert status == 0
    front, rear = (axle["fitted"] for axle in json.loads(out)["axles"])
    assert "spacer 5 mm" in front
    assert "spacer 3 mm" in rear
    assert "ride height -20 mm" in front
    assert "ride height -20 mm" in rear


def test_what_cannot_be_known_is_refused_with_the_reason(attempt):
    status, out, _ = attempt("--front-bump-stop", "removed", "--json")
    found = json.loads(out)
    assert status == 0
    assert found["chance"] is None
    assert any("bump stop was removed" in words for words in found["refused"])
    unknown = [site for site in found["axles"][0]["sites"] if site["word"] == "not known"]
    assert unknown
    assert all(site["chance"] is None and site["gap"] is None for site in unknown)


def test_from_nothing_takes_what_is_given(attempt):
    words = ["--both-wheel", "7x15", "--both-tyre", "195/60 R15 88V", "--both-offset", "24 mm"]
    status, out, _ = attempt("--from", "nothing", *words, "--json")
    assert status == 0
    assert json.loads(out)["from"] == "nothing"
    assert "tyre by its size alone" in out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--front-offset", "22"], "--front-offset: `22` has no unit; type `22 mm`"),
        (["--front-wheel", "wide"], "--front-wheel:"),
        (["--rear-tyre", "205"], "--rear-tyre:"),
        (["--lips", "folded"], "--lips: `folded` is not one of the words"),
        (["--both-camber=-30deg"], "outside -9.75 to 5.25 deg"),
        (["--lower", "900 mm"], "--lower:"),
        (["--front-wheel", "7x15", "--front-offset", "20 mm"], "for a rim of 14"),
        (["--front-wheel", "7x14"], "needs its offset"),
        (["--from", "nothing"], "the front has no wheel size"),
        (["--from", "nobody"], "there is no setup `ostvane-meridel/nobody`"),
    ],
)
def test_a_slip_is_told_in_one_line(attempt, words, said):
    status, out, err = attempt(*words)
    assert (status, out) == (2, "")
    assert said in err
    assert err.startswith("gapbook: ")
    assert len(err.strip().splitlines()) == 1


def test_a_chassis_nobody_wrote_about_is_told(attempt):
    status, _, err = attempt(chassis="no-such-car")
    assert status == 2
    assert "there is no chassis `no-such-car`" in err


@pytest.mark.parametrize("hostile", ["../../etc", "a/b", "\x1b[31m", "%s%n", "x" * 400])
def test_hostile_names_are_only_text(attempt, hostile):
    for words in ([hostile, "ostvane-meridel"], ["stock", hostile]):
        status, out, err = attempt("--from", words[0], chassis=words[1])
        assert (status, out) == (2, "")
        assert "\x1b" not in err
        assert len(err) < 300


def test_help_names_every_end_and_shows_an_example(capsys):
    with pytest.raises(SystemExit) as ended:
        main(["try", "--help"])
    assert ended.value.code == 0
    said = capsys.readouterr().out
    for word in ("--front-wheel", "--rear-tyre", "--both-lips", "example:"):
        assert word in said
