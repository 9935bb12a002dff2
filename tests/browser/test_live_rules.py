"""The form's checks say the same as the command, and the file it writes reads back the same.

What is expected is what `gapbook check` says: code, severity, words and line of each fault. The
rules themselves are held against the outside by their own tests.
"""

import json
import random
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Any

import pytest

from generator.reading.folder import Found
from generator.reading.pruning import plain
from generator.reading.source import load
from generator.records.examples import sample
from generator.rendering.environment import template_folder
from generator.rendering.scripts import scripts
from generator.site.submit_data import rules_file
from generator.site.translated.definitions import models
from generator.site.translated.program import live_rules
from tests.browser.typed_cases import HOSTILE, LiveCase, demo, judged, of_rules, with_slips

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

_START = """async ([judge, rules, models]) => {
  const [{ Judge }, program] = await Promise.all([import(judge), import(rules)]);
  globalThis.judge = new Judge(program, models);
  globalThis.sheets = new Map();
}"""
_JUDGE = """cases => cases.map(({ typed, chassis, sheet, key }) => {
  if (sheet && !sheets.has(key)) sheets.set(key, judge.chassis(chassis, sheet));
  return judge.faults(typed, sheets.get(key) ?? null);
})"""


@pytest.fixture(scope="module")
def checks(browser: "Browser", serve: Callable[..., Iterator[str]], tmp_path_factory: Any) -> Any:
    """Give a page that has the form's checks, and nothing else of the guide."""
    folder = tmp_path_factory.mktemp("checks")
    (folder / "index.html").write_text("<!DOCTYPE html><title>checks</title>", "utf-8")
    made = scripts(template_folder())
    for asset in made.values():
        (folder / asset.name).write_bytes(asset.body)
    (folder / "rules.js").write_text(rules_file().text, "utf-8")
    server = serve(folder)
    address = next(server)
    page = browser.new_page()
    page.goto(address)
    page.evaluate(_START, [f"./{made['submit/judge'].name}", "./rules.js", models()])
    yield page
    page.close()
    server.close()


def differing(page: "Page", cases: list[LiveCase]) -> list[str]:
    """Give what only one of the two checks says."""
    asked: list[dict[str, Any]] = []
    sheets: dict[int, str] = {}
    for case in cases:
        given = {"typed": case.typed, "chassis": case.chassis, "sheet": None}
        if id(case.sheet) not in sheets:  # the page keeps each sheet under its key
            sheets[id(case.sheet)] = str(hash(str(case.sheet)))
            given["sheet"] = case.sheet
        asked.append({**given, "key": sheets[id(case.sheet)]})
    found = []
    for at in range(0, len(asked), 100):
        found += page.evaluate(_JUDGE, asked[at : at + 100])
    told = []
    for case, faults in zip(cases, found, strict=True):
        want = {
            (f.code, f.severity.value, f.headline, f.expected, f.fix, f.place.line)
            for f in case.faults
        }
        have = set()
        for fault in faults:
            route = tuple(fault["route"])
            find = case.source.key_place if fault["isKey"] else case.source.place
            line = find(route).line
            words = tuple(fault[part] for part in ("code", "severity", "headline", "expected"))
            have.add((*words, fault["fix"], line))
        told += [f"{case.name}: only the command: {each}" for each in sorted(want - have)]
        told += [f"{case.name}: only the form: {each}" for each in sorted(have - want)]
    return told


def test_every_record_of_the_demo_gets_the_same_faults(checks: "Page") -> None:
    cases = list(demo())
    assert len(cases) >= 60
    assert not differing(checks, cases)


def test_every_example_of_every_rule_gets_the_same_faults(checks: "Page") -> None:
    cases = list(of_rules())
    assert not differing(checks, cases)
    said = {fault.code for case in cases for fault in case.faults}
    # Every live rule speaks up in its own example, so that silence on both sides is no agreement.
    assert {code for code, _ in live_rules()} <= said


def test_every_record_with_slips_gets_the_same_faults(checks: "Page") -> None:
    cases = list(with_slips(600, seed=20261125))
    assert sum(len(case.faults) for case in cases) > 800
    assert not differing(checks, cases)


def test_the_broken_copy_gets_the_same_faults(checks: "Page") -> None:
    good = sample("setup")
    broken = (
        ("overall_width: 203 mm", "overall_width: 203 MM"), ("lips: rolled", "lips: shaved"),
        ("  camber: -1 deg", "  cambr: -1 deg"), ("diameter: 612 mm", "diameter: 612,5 mm"),
        ("pressure: 2.0 bar", "pressure: 2.0"), ("thread: M12x1.5", "thread: M12x1.6"),
        ('["0825", "0825"]', '["0899", "0899"]'), ("site: strut-tube", "site: strut-tub"),
        ("member: Copperbill\n", ""), ("bore: 61.6 mm", "bore: 616 mm"),
        ("backspacing: 123.5 mm", "backspacing: 143.5 mm"),
        ("rims: 5.5 to 7 in", "rims: 5.5 to 6.5 in"),
    )  # fmt: skip
    sheet = Found("chassis/ostvane-meridel.yaml", sample("chassis").encode())
    cases = []
    for old, new in broken:
        assert old in good
        text = good.replace(old, new).encode()
        cases += judged(old, (sheet, Found("setups/ostvane-meridel/a.yaml", text)))
    assert all(case.faults for case in cases)
    assert not differing(checks, cases)


def test_the_file_reads_back_as_it_was_typed(checks: "Page") -> None:
    chance = random.Random(6)
    records = [case.typed for case in demo()]
    signs = [chr(code) for code in (*range(0x20, 0x7F), 0xE9, 0x2028, 0x202E, 0x65E5, 0x1F600)]
    for number in range(400):
        texts = [chance.choice(HOSTILE) for _ in range(4)]
        texts += ["".join(chance.choices(signs, k=chance.randint(1, 60))) for _ in range(4)]
        records.append({
            "title": texts[0] or "t", "chassis": texts[1] or "c", "notes": "\n".join(texts),
            "front": {"wheel": {"size": texts[2] or "7 x 15"}}, "not_checked": texts,
            "gaps": [{"site": texts[3] or "s", "note": texts[4]}], "member": f"{number}",
        })  # fmt: skip
    texts = checks.evaluate("records => records.map((record) => judge.yaml(record))", records)
    for record, text in zip(records, texts, strict=True):
        source, faults = load("record", text.encode("utf-8"))
        if source is None:
            # A character that no file of the guide may hold, and the fault says which.
            assert {fault.code for fault in faults} == {"Y03"}
            written = json.dumps(record, ensure_ascii=False)
            assert "\u2028" in written or "\\t" in written
        else:
            assert plain(source.root) == record


def test_a_very_long_text_is_told_and_stops_nothing(checks: "Page") -> None:
    record = {"title": "x" * 5000, "notes": "word " * 3000}
    [faults] = checks.evaluate(_JUDGE, [{"typed": record, "chassis": "", "sheet": None}])
    assert {("F09", "title"), ("F09", "notes")} <= {
        (fault["code"], fault["route"][0]) for fault in faults if fault["route"]
    }
