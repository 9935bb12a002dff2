"""The life of a record: what happened when, with links both ways, and whether it counts."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from functools import cache

import pytest

from generator.reading.history import Change, FileHistory, History
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.records.library import Library
from generator.site.lifecycle import events, kept, last_day, replaced_by, standing

NEW = "ostvane-meridel/copperbill-seven-inch"
OLD = "ostvane-meridel/fernhollow-seven-inch"
PAIR = (
    "setup: {{supersedes: fernhollow-seven-inch{0}}}\n"
    "other: {{car: copperbill-coupe, date: 2025-05-01}}"
)


@cache
def library(overlay: str) -> Library:
    collected = collect(example_files(overlay))
    assert not collected.faults
    return collected.library


def standings(overlay: str) -> dict[str, str]:
    found = library(overlay)
    replaced = replaced_by(found)
    return {name: standing(filed, replaced) for name, filed in found.setups.items()}


def test_a_replaced_record_does_not_count() -> None:
    assert standings(PAIR.format("")) == {NEW: "counts", OLD: "replaced"}


def test_a_withdrawn_record_replaces_nothing() -> None:
    gone = ", withdrawn: {date: 2025-08-01, reason: other hubs}"
    assert standings(PAIR.format(gone)) == {NEW: "withdrawn", OLD: "counts"}


@pytest.mark.parametrize(("settled", "word"), [("", "disputed"), (", settled: yes", "counts")])
def test_a_dispute_lasts_until_it_is_settled(settled: str, word: str) -> None:
    dispute = f"{{date: 2025-08-01, member: Ember, claim: touches{settled}}}"
    assert standings(f"setup: {{disputes: [{dispute}]}}")[NEW] == word


def told(overlay: str, name: str) -> list[tuple[str, str, str]]:
    found = library(overlay)
    return [
        (each.day.isoformat(), each.word, each.link.href if each.link else "")
        for each in events(found.setups[name], found, replaced_by(found))
    ]


def test_each_of_a_pair_leads_to_the_other() -> None:
    day = library(PAIR.format("")).setups[NEW].value.date.isoformat()
    assert told(PAIR.format(""), NEW) == [
        (day, "reported", ""), (day, "replaces", f"setups/{OLD}.html"),
    ]  # fmt: skip
    assert told(PAIR.format(""), OLD) == [
        ("2025-05-01", "reported", ""), (day, "replaced", f"setups/{NEW}.html"),
    ]  # fmt: skip


def test_all_that_happened_stands_in_order_of_day() -> None:
    overlay = """
setup:
  withdrawn: {date: 2025-12-01, reason: other hubs}
  disputes: [{date: 2025-09-01, member: Ember, site: strut-tube, claim: touches, settled: no}]
  corrections: [{date: 2025-08-20, what: backspacing, by: Fernhollow}]
  confirmations: [{member: Fernhollow, date: 2025-07-20, how: fitted to another car, note: same}]
"""
    found = library(overlay)
    happened = events(found.setups[NEW], found, replaced_by(found))
    assert [each.word for each in happened] == [
        "reported", "borne out", "corrected", "disputed", "withdrawn",
    ]  # fmt: skip
    assert [each.text for each in happened[1:]] == [
        "Fernhollow fitted to another car: same",
        "backspacing, found by Fernhollow",
        "Ember at the strut tube: touches; settled: no",
        "other hubs",
    ]
    assert last_day(found.setups[NEW], found, replaced_by(found)) == date(2025, 12, 1)


def test_what_git_knows_of_a_file_is_a_date_or_a_reason() -> None:
    file = FileHistory((Change("a" * 40, date(2025, 6, 1)),), is_committed=True)
    known = History("from git", True, {"setups/a/b.yaml": file})
    assert kept("setups/a/b.yaml", known).file is file
    assert kept("setups/a/c.yaml", known).told == "not committed yet"
    none: Callable[[], History] = History
    assert kept("setups/a/b.yaml", none()).told == "no history: not a git checkout"
    assert kept("setups/a/b.yaml", replace(known, files={}, is_known=False)).told == "from git"
