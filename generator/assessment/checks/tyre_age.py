"""A tyre is old, or the tyres of an axle were not made together."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.finding import Finding, Follows, Gravity, Hazard
from generator.geometry.inspection import age, batch_check, weeks_apart
from generator.published import tables
from generator.quantities.date_code import DateCode

PAIR_WEEKS = 13
"""Pairs come from within about a quarter of a year: common practice."""

HAZARD = Hazard(
    "H28",
    "age of the tyres",
    "Rubber hardens with the years, whatever the tread, and tyres made far apart may differ in "
    "compound and size. The last digits of the identification number are week and year.",
    "CFR574",
    Gravity.CARE,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the oldest tyre's age on the day of measuring, and the weeks between a pair.

    Source: [CFR574] 574.5, date code; [PRACTICE] six and ten years, pairs within 13 weeks.
    """
    codes = end.fitted.tyre.date_codes
    if not codes:
        yield HAZARD.not_known(
            end.where,
            "The tyres' date codes are not given.",
            measure="Read the last four digits of the identification number on each tyre; it may "
            "stand on the inner side only.",
        )
        return
    yield _oldest(end, codes)
    yield _pair(end, codes)


def _oldest(end: End, codes: tuple[DateCode, ...]) -> Finding:
    bounds = tables.tyre_age()
    try:
        oldest = max((age(code, end.day) for code in codes), key=lambda each: each.greatest)
    except ValueError as trouble:
        return HAZARD.not_known(
            end.where,
            f"The age of the tyres is not known: {trouble}.",
            measure="Read week and year again.",
        )
    many = "" if len(codes) > 1 else " (one code given)"
    return HAZARD.checked(
        end.where,
        oldest.check(bounds.note),
        "years",
        sentence=f"The oldest tyre{many} was {oldest.greatest:.1f} years old on the day of "
        f"measuring; from {bounds.note} years a tyre is inspected, at {bounds.warning} replaced.",
        follows=Follows(
            holds="",
            fails="Replace it." if oldest.greatest > bounds.warning else "Have it inspected.",
        ),
    )


def _pair(end: End, codes: tuple[DateCode, ...]) -> Finding:
    weeks = weeks_apart(codes) if len(codes) > 1 else None
    if weeks is None:
        return HAZARD.not_known(
            end.where,
            "Whether both tyres were made at one time is not known.",
            measure="Read the date codes of both; three digits do not give the decade.",
        )
    alike = (
        "bear the same date code"
        if weeks == 0
        else f"were made {weeks} {'week' if weeks == 1 else 'weeks'} apart"
    )
    return HAZARD.checked(
        end.where,
        batch_check(weeks, PAIR_WEEKS),
        "weeks",
        sentence=f"The {end.axle.value} tyres {alike}.",
        follows=Follows(
            holds="",
            fails="Measure both: width and diameter may differ between batches.",
        ),
    )
