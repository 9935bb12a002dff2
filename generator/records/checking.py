"""Runs all rules of `records/checks/`: a file in that folder is a rule, there is no list."""

from collections.abc import Callable
from datetime import date
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType

from generator.reading.fault import Fault
from generator.records import checks
from generator.records.library import Case, Library
from generator.records.rule import Rule


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
    found: list[Fault] = []
    for module in rule_modules():
        if hasattr(module, "check_library"):
            found.extend(module.check_library(library))
        if hasattr(module, "check_dates"):
            found.extend(module.check_dates(library, today))
    for case in library.cases():
        found.extend(of_case(case))
    return tuple(sorted(set(found), key=lambda fault: fault.order))
