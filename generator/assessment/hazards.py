"""Runs all checks of `assessment/checks/`: a file in that folder is a hazard, there is no list."""

from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType

from generator.assessment import checks
from generator.assessment.car import Car
from generator.assessment.finding import Finding, Gravity, Hazard, Outcome
from generator.records.words import Axle, Side

_ORDER = {None: 0, Axle.FRONT: 1, Axle.REAR: 2}


@cache
def hazard_modules() -> tuple[ModuleType, ...]:
    """Give the modules of all hazards, in order of code."""
    names = sorted(module.name for module in iter_modules(checks.__path__))
    modules = [import_module(f"{checks.__name__}.{name}") for name in names]
    return tuple(sorted(modules, key=lambda module: str(module.HAZARD.code)))


def hazards() -> tuple[Hazard, ...]:
    """Give all hazards, in order of code."""
    return tuple(module.HAZARD for module in hazard_modules())


def gravity_of(finding: Finding) -> Gravity:
    """Give what the hazard of a finding can do where its check fails."""
    return _gravities()[finding.code]


@cache
def _gravities() -> dict[str, Gravity]:
    return {hazard.code: hazard.gravity for hazard in hazards()}


def counts_as(finding: Finding) -> Outcome:
    """Give what a finding counts as: what cannot be told fails where it is dangerous."""
    dangerous = gravity_of(finding) is Gravity.DANGER
    close = finding.outcome is Outcome.TOO_CLOSE_TO_SAY
    return Outcome.FAILS if close and dangerous else finding.outcome


def forbids_driving(finding: Finding) -> bool:
    """Tell whether a finding says not to drive."""
    return counts_as(finding) is Outcome.FAILS and gravity_of(finding) is Gravity.DANGER


def findings(car: Car) -> tuple[Finding, ...]:
    """Give all that the checks find on a car: by axle, then by code, left before right."""
    found: list[Finding] = []
    ends = tuple(car.ends())
    for module in hazard_modules():
        if hasattr(module, "findings_of_car"):
            found.extend(module.findings_of_car(car))
        if hasattr(module, "findings"):
            found.extend(_joined(each for end in ends for each in module.findings(end)))
    return tuple(sorted(found, key=lambda each: _ORDER[each.axle]))


def _joined(found: Iterable[Finding]) -> Iterator[Finding]:
    """Say once what is the same on both sides."""
    apart = tuple(found)
    for each in apart:
        twin = replace(each, side=Side.RIGHT if each.side is Side.LEFT else Side.LEFT)
        if each.side is Side.BOTH or twin not in apart:
            yield each
        elif each.side is Side.LEFT:
            yield replace(each, side=Side.BOTH)
