"""The federation: the same from the same seed, sound by the rules, and its truth is held."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from random import Random

import numpy as np
import pytest
from scipy.stats import binom

from generator.assessment.assess import Assessment, assess
from generator.evidence.club import ChassisEvidence, SiteLimits, learn_library
from generator.evidence.entries import computed_in
from generator.reading.fault import Severity
from generator.reading.folder import content_files
from generator.records.checking import check
from generator.records.collect import collect
from generator.records.library import Library
from generator.records.words import Side
from tests.federation.chassis import kinds
from tests.federation.federation import (
    CLUB,
    Chassis,
    chassis,
    federation,
    fitted_of,
    write,
    write_chassis,
)
from tests.federation.fitting import stock
from tests.federation.gaps import gaps
from tests.federation.writing import document, scalar
from tests.truth.swept import Car, Fitted

SEED = 7
SAMPLE = 3, 10
"""Chassis whose limits are held against the truth, and records of each."""
TODAY = date(2026, 11, 25)
WARNED = 0.25
"""Share of records that may have a warning: members slip, and say odd things that are true."""
CLAIMED = 0.9
UNLUCKY = 0.001
"""Chance at which a right claim may fail here."""
STRAY = 3.0
"""Standard errors that the mean share may stray."""
FRESH = 40
"""Cars nobody has measured, for the share in the middle."""
ALIKE, NEAR = 3.0, 60.0
"""The two geometries of the tests agree so far where a gap is below the second, mm."""


def _bytes(folder: Path) -> dict[str, bytes]:
    files = (path for path in folder.rglob("*") if path.is_file())
    return {str(path.relative_to(folder)): path.read_bytes() for path in files}


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    made = tmp_path_factory.mktemp("federation") / "content"
    write(made, seed=SEED, records=100)
    return made


def test_the_same_seed_gives_the_same_bytes(folder: Path, tmp_path: Path) -> None:
    write(tmp_path / "again", seed=SEED, records=100)
    assert _bytes(tmp_path / "again") == _bytes(folder)
    write(tmp_path / "other", seed=SEED + 1, records=100)
    assert _bytes(tmp_path / "other") != _bytes(folder)


def test_a_federation_has_as_many_records_as_asked_for(folder: Path) -> None:
    assert len(list(folder.glob("setups/*/*.yaml"))) == 100
    assert len(list(folder.glob("chassis/*.yaml"))) == 2
    assert [len(each.records) for each in federation(SEED, 70)] == [50, 20]


def test_names_of_chassis_and_records_differ() -> None:
    made = [chassis(SEED, place, 8) for place in range(0, 1400, 97)]
    slugs = [each.sheet.slug for each in made]
    names = [record.slug for each in made for record in each.records]
    assert len(set(slugs)) == len(slugs)
    assert len(set(names)) == len(names)


def test_no_rule_finds_an_error_and_few_warn(folder: Path) -> None:
    files, odd = content_files(folder)
    collected = collect(files)
    faults = [*odd, *collected.faults, *check(collected.library, today=TODAY)]
    assert [fault.headline for fault in faults if fault.severity is Severity.ERROR] == []
    warned = {fault.place.path for fault in faults if fault.severity is Severity.WARNING}
    assert 0 < len(warned) <= WARNED * 100


def test_records_show_all_the_ways_of_members(folder: Path) -> None:
    texts = [path.read_text("utf-8") for path in folder.glob("setups/*/*.yaml")]
    signs = (
        " thou", "/16 in", " in,", " mm", " lb ft", " miles", "withdrawn:", "corrections:",
        "supersedes:", "confirmations:", "clears", "touches", "more than", "spacer:", "trimmed",
        "rolled", "by eye", "not_checked", "**",
    )  # fmt: skip
    assert [sign for sign in signs if not any(sign in text for text in texts)] == []


@pytest.mark.parametrize("kind", kinds(), ids=lambda each: each[0])
@pytest.mark.parametrize("axle", ["front", "rear"])
def test_gaps_of_a_lowered_stock_car_are_those_of_the_demo_truth(kind: tuple, axle: str) -> None:
    # Source: the demo's own geometry in tests/truth, which looks for nearest points of an outline.
    _, data = kind
    found = gaps(data, axle, fitted_of(data, axle, [replace(stock(data[axle]), lowered=20.0)]))
    car = Car(data, axle)
    off = {}
    for (_, site, state, side), gap in found.items():
        there = Fitted(car, car.stock(), replace(car.reach(), rest=20.0), side).gap(site, state)
        if there < NEAR and not abs(float(gap[0]) - there) <= ALIKE:
            off[site, state, side] = (there, float(gap[0]))
    assert off == {}


@dataclass(frozen=True)
class Learned:
    """Some chassis with their truth, and what was learned of their records."""

    made: tuple[Chassis, ...]
    library: Library
    assessments: dict[str, Assessment]
    evidence: dict[str, ChassisEvidence]

    def limits(self) -> Iterator[tuple[Chassis, SiteLimits]]:
        """Give the limits of one side of each site: the other side hears the same cars."""
        for each in self.made:
            for key, limit in self.evidence[each.sheet.slug].limits.items():
                if key.side is Side.LEFT or limit.site.only is Side.RIGHT:
                    yield each, limit

    def between_geometries(self, each: Chassis, limit: SiteLimits) -> float:
        """Give how much more room the true geometry has than the guide's, mean of the records."""
        key, apart = limit.key, []
        axle, side = key.axle.value, key.side.value
        known = each.gaps_by_sheet(axle, [getattr(record, axle) for record in each.records])
        said = [self.library.setups[w.entry.record].value for w in limit.weighed]
        entries = [w.entry.index for w in limit.weighed]
        states = {s.gaps[i].state for s, i in zip(said, entries, strict=True) if i >= 0}
        for index, record in enumerate(each.records):
            assessment = self.assessments[f"{each.sheet.slug}/{record.slug}"]
            for clearance in (c for end in assessment.axles() for c in end.clearances):
                same = (clearance.site.axle, clearance.site.name) == (key.axle, key.site)
                if not same or clearance.side not in (key.side, Side.BOTH):
                    continue
                for state in states:
                    computed = computed_in(clearance, state)
                    words = state.value if clearance.moves else "static"
                    if computed is not None and (axle, key.site, words, side) in known:
                        true = float(known[axle, key.site, words, side][index])
                        apart.append(true - computed.gap.value)
        return float(np.mean(apart)) if apart else 0.0


@pytest.fixture(scope="module")
def learned(tmp_path_factory: pytest.TempPathFactory) -> Learned:
    content = tmp_path_factory.mktemp("calibrated")
    (content / "chassis").mkdir()
    (content / "club.yaml").write_text(document(CLUB), "utf-8")
    for place in range(SAMPLE[0]):
        write_chassis(content, SEED, place, SAMPLE[1])
    library = collect(content_files(content)[0]).library
    assessments = {case.setup.id: assess(case) for case in library.cases()}
    made = tuple(chassis(SEED, place, SAMPLE[1]) for place in range(SAMPLE[0]))
    return Learned(made, library, assessments, learn_library(library, assessments))


def test_learned_limits_hold_the_next_car_about_as_often_as_they_claim(learned: Learned) -> None:
    # Source: binomial distribution, by scipy; standard error of a mean.
    hits, shares = [], []
    for each, limit in learned.limits():
        axle, site, side = limit.key.axle.value, limit.key.site, limit.key.side.value
        shift = learned.between_geometries(each, limit)
        random = Random(f"{each.sheet.slug} {axle} {site}")
        true = [shift + each.corrections[axle, site].of_car(random)[side] for _ in range(FRESH)]
        low, high = limit.posterior.limits.low, limit.posterior.limits.high
        held = [low <= one <= high for one in true]
        hits.append(held[0])
        shares.append(sum(held) / FRESH)
    assert len(hits) >= 50
    assert sum(hits) >= binom.ppf(UNLUCKY, len(hits), CLAIMED)
    error = float(np.std(shares)) / len(shares) ** 0.5
    assert abs(float(np.mean(shares)) - CLAIMED) <= STRAY * error


@pytest.mark.parametrize(
    ("value", "text"),
    [
        ("6.5 mm", "6.5 mm"), ("a: b", '"a: b"'), ("apron, inner", '"apron, inner"'), (True, "yes"),
        ("# no", '"# no"'), ("- no", '"- no"'), (4.5, "4.5"), ("", '""'), ("it's", '"it\'s"'),
    ],
)  # fmt: skip
def test_a_value_is_quoted_where_yaml_would_misread_it(value: object, text: str) -> None:
    assert scalar(value) == text


def test_prose_stands_in_a_block() -> None:
    assert document({"notes": "one\n\ntwo\n"}) == "notes: |\n  one\n\n  two\n"
