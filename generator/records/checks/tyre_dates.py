"""A tyre was made after it was measured, or is old, or a pair is from different times."""

from collections.abc import Iterator
from datetime import date

from generator.geometry.inspection import age, weeks_apart
from generator.published import tables
from generator.quantities.date_code import DateCode, week_days
from generator.reading.fault import Fault, Severity
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.words import Axle

WEEKS_APART = 26
"""Tyres of one axle should be of about one age: common practice."""

RULE = Rule(
    code="R35",
    title="a tyre's date code that does not fit",
    severity=Severity.ERROR,
    why="The code is week and year, counted in whole weeks from Sunday to Saturday. A tyre cannot "
    "be younger than the day it was measured on; an old one has hardened, whatever its tread.",
    mend="Read the last four digits of the identification number again: week first, then year. "
    "Have tyres over six years inspected, and replace them at ten.",
    source="49 CFR 574.5; ages are common practice",
    bad='setup: {front: {tyre: {date_codes: ["0826", "0825"]}}}',
    good='setup: {front: {tyre: {date_codes: ["1024", "1224"]}}}',
)


def check(case: Case) -> Iterator[Fault]:
    """Hold all date codes of both ends against the day of measuring."""
    day = case.setup.value.date
    for axle, fitted, _ in case.axles():
        codes = fitted.tyre.date_codes
        for index, code in enumerate(codes):
            yield from _one(case, axle, index, code=code, day=day)
        weeks = weeks_apart(codes) if len(codes) > 1 else None
        if weeks is not None and weeks > WEEKS_APART:
            yield RULE.note(
                RULE.fault(
                    case.setup.key_place(axle.value, "tyre", "date_codes"),
                    f"the {axle.value} tyres were made {weeks} weeks apart",
                    expected=f"at most {WEEKS_APART} weeks",
                    fix="read the codes again; measure both tyres, since they may differ",
                )
            )


def _one(case: Case, axle: Axle, index: int, *, code: DateCode, day: date) -> Iterator[Fault]:
    place = case.setup.place(axle.value, "tyre", "date_codes", index)
    first, _ = week_days(code)
    if first > day:
        yield RULE.fault(
            place,
            f"`{code.typed}` is week {code.week:02d} of {code.years[0]}, {(first - day).days} days "
            "after the measuring",
            expected=f"a week up to {day.isoformat()}",
            fix="read week and year again; they may have changed places",
            also=(marked(case.setup, "day of measuring", "date"),),
        )
        return
    bounds, years = tables.tyre_age(), age(code, day).least
    if years <= bounds.note:
        return
    which = "" if code.is_certain else " at the least, as the decade is not in the code"
    fault = RULE.fault(
        place,
        f"the tyre of `{code.typed}` was {int(years)} years old{which}",
        expected=f"up to {bounds.note} years, inspected up to {bounds.warning}",
        fix="have it inspected before use"
        if years <= bounds.warning
        else "replace it; ask a tyre shop where that cannot be",
    )
    yield RULE.warning(fault) if years > bounds.warning else RULE.note(fault)
