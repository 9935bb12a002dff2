"""Runs all rules of `records/checks/`: a file in that folder is a rule, there is no list.

Most rules look at one record, or at what was written of one chassis. So that a large club need not
be read whole where little changed, a module says what else it looks at:

- `ties(library)` gives pairs of a key and a value. The rule speaks only of records that share a key
  and differ in the value, whichever chassis they are of.
- `OF_CLUB = True`: it looks at the club's settings and at which files there are, into no record.
- `check_dates(library, today)` holds dates against the day of the check.
"""

from collections.abc import Callable, Container, Mapping
from dataclasses import replace
from datetime import date
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType
from typing import TypeAlias

from generator.reading.fault import Fault
from generator.records import checks
from generator.records.library import Case, Library
from generator.records.rule import Rule

Ties: TypeAlias = Mapping[str, frozenset[tuple[str, str]]]
"""What the rules that look across chassis compare, by the code of the rule: keys and values."""


@cache
def rule_modules() -> tuple[ModuleType, ...]:
    """Give the modules of all rules, in order of code."""
    names = sorted(module.name for module in iter_modules(checks.__path__))
    modules = [import_module(f"{checks.__name__}.{name}") for name in names]
    return tuple(sorted(modules, key=lambda module: str(module.RULE.code)))


def rules() -> tuple[Rule, ...]:
    """Give all rules, in order of code."""
    return tuple(module.RULE for module in rule_modules())


def check_case(case: Case) -> tuple[Fault, ...]:
    """Apply the rules that look at one setup on its chassis."""
    modules = [module for module in rule_modules() if hasattr(module, "check")]
    return tuple(fault for module in modules for fault in module.check(case))


def check(
    library: Library, *, today: date, of_case: Callable[[Case], tuple[Fault, ...]] = check_case
) -> tuple[Fault, ...]:
    """Apply all rules to a library. `today` is the day after which a date lies in the future.

    `of_case` may remember what `check_case` said of a case.
    """
    found = [*check_within(library, of_case=of_case), *check_club(library)]
    found += check_dates(library, today)
    for module in _across():
        found += module.check_library(library)
    return tuple(sorted(set(found), key=lambda fault: fault.order))


def check_within(
    library: Library, *, of_case: Callable[[Case], tuple[Fault, ...]] = check_case
) -> tuple[Fault, ...]:
    """Apply the rules that look at one chassis at a time to a library of one or of several."""
    found: list[Fault] = []
    for module in rule_modules():
        if (
            hasattr(module, "check_library")
            and not hasattr(module, "ties")
            and not _of_club(module)
        ):
            found.extend(module.check_library(library))
    for case in library.cases():
        found.extend(of_case(case))
    return tuple(found)


def check_club(library: Library) -> tuple[Fault, ...]:
    """Apply the rules that look into no record."""
    modules = (module for module in rule_modules() if _of_club(module))
    return tuple(fault for module in modules for fault in module.check_library(library))


def check_dates(library: Library, today: date) -> tuple[Fault, ...]:
    """Hold the dates of a library against the day of the check."""
    modules = (module for module in rule_modules() if hasattr(module, "check_dates"))
    return tuple(fault for module in modules for fault in module.check_dates(library, today))


def ties_of(library: Library) -> Ties:
    """Give what the rules that look across chassis compare of one chassis."""
    return {module.RULE.code: frozenset(module.ties(library)) for module in _across()}


def check_across(library: Library, ties: Mapping[str, Ties]) -> tuple[Fault, ...]:
    """Apply the rules that look across chassis; only chassis that they could speak of are read.

    `ties` has those of each chassis by its name, of all that the library holds.
    """
    found: list[Fault] = []
    for module in _across():
        values: dict[str, set[str]] = {}
        for each in ties.values():
            for key, value in each[module.RULE.code]:
                values.setdefault(key, set()).add(value)
        differ = {key for key, several in values.items() if len(several) > 1}
        names = {
            name
            for name, each in ties.items()
            if any(key in differ for key, _ in each[module.RULE.code])
        }
        if names:
            found.extend(module.check_library(in_folders(library, names)))
    return tuple(found)


def in_folders(library: Library, names: Container[str]) -> Library:
    """Give what lies in the folders of some chassis, in the order of the whole."""
    sheets = {name: library.chassis[name] for name in library.chassis if name in names}
    setups = (name for name in library.setups if name.split("/")[0] in names)
    return replace(library.with_setups(setups), chassis=sheets)


def _across() -> tuple[ModuleType, ...]:
    return tuple(module for module in rule_modules() if hasattr(module, "ties"))


def _of_club(module: ModuleType) -> bool:
    return bool(getattr(module, "OF_CLUB", False))
