"""Cases for the tests of assessment: fields laid over the invented sample records."""

from dataclasses import dataclass

import pytest

from generator.assessment.car import car
from generator.assessment.finding import Finding
from generator.assessment.fit import axle_fit
from generator.assessment.hazards import findings
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.records.words import Axle


@dataclass(frozen=True)
class Found:
    """All findings of a case, to be asked for by code and axle."""

    all: tuple[Finding, ...]

    def of(self, code: str, axle: Axle | None = Axle.FRONT) -> tuple[Finding, ...]:
        return tuple(each for each in self.all if each.code == code and each.axle is axle)

    def one(self, code: str, axle: Axle | None = Axle.FRONT) -> Finding:
        return self.of(code, axle)[0]


def _case(overlay: str):
    collected = collect(example_files(overlay))
    assert not collected.faults, [fault.headline for fault in collected.faults]
    return next(iter(collected.library.cases()))


def _found(overlay: str) -> Found:
    case = _case(overlay)
    setup, chassis = case.setup.value, case.chassis.value
    fits = (
        axle_fit(Axle.FRONT, setup.front, chassis.front),
        axle_fit(Axle.REAR, setup.rear, chassis.rear),
    )
    return Found(findings(car(setup, chassis, *fits)))


@pytest.fixture
def case_of():
    """Give the case that an overlay in YAML makes of the sample records."""
    return _case


@pytest.fixture
def found():
    """Give the findings of the sample records with an overlay in YAML."""
    return _found
