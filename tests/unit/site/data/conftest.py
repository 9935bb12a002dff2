"""A small guide of the invented sample records, with all that can happen to a record."""

from collections.abc import Callable
from dataclasses import replace
from functools import cache

import pytest

from generator.computing import guide_of, inputs_of
from generator.reading.folder import Found
from generator.records.checking import check
from generator.records.collect import collect
from generator.records.examples import DAY_OF_EXAMPLES, example_files
from generator.site.guide import Guide

LIFE = """
setup:
  supersedes: fernhollow-seven-inch
  confirmations: [{member: Fernhollow, date: 2025-07-02, how: fitted to another car}]
  corrections: [{date: 2025-08-20, what: "=HYPERLINK(1) & <b>backspacing</b>", by: Fernhollow}]
  disputes: [{date: 2025-09-01, member: Ember, claim: touches at full bump}]
other: {car: copperbill-coupe, date: 2025-05-01, title: "=1+1"}
club:
  moved:
    - {old: setups/ostvane-meridel/first-try, new: setups/ostvane-meridel/copperbill-seven-inch}
"""


@cache
def made(overlay: str) -> Guide:
    found = example_files(overlay)
    collected = collect(found)
    faults = (*collected.faults, *check(collected.library, today=DAY_OF_EXAMPLES))
    return replace(guide_of(collected, faults), inputs=inputs_of(found))


@pytest.fixture(scope="session")
def guide() -> Guide:
    return made(LIFE)


@pytest.fixture(scope="session")
def files_of_guide() -> tuple[Found, ...]:
    return example_files(LIFE)


@pytest.fixture(scope="session")
def guide_from() -> Callable[[str], Guide]:
    return made
