"""The date code of a tyre: the last digits of its identification number, week and year.

Source: [CFR574] (four digits WWYY since 2000, three digits WWY before). Weeks run from Sunday to
Saturday and week 01 is the first that lies whole in its year, so they are not the weeks of ISO
8601. That wording, and the years in which three digits were in use, are from memory.
"""

import re
from dataclasses import field
from datetime import date, timedelta

from generator.frozen import dataclass
from generator.quantities.cursor import Cursor, readable
from generator.quantities.misread import Explained, Misread

FIRST_IDENTIFIED_YEAR = 1971
FOUR_DIGIT_YEAR = 2000
LAST_THREE_DIGIT_WEEK = 26
"""Three digits were allowed until 2 July 2000 [CFR574], from memory."""
LAST_WEEK = 53

NOT_A_DATE_CODE = Explained(
    "N501",
    "not a date code",
    "The date code is the last group of the tyre's identification number: two digits for the week "
    "and two for the year, or one for the year before 2000 [CFR574].",
    "Type the three or four digits alone, as they stand on the sidewall.",
    "12A4",
    "1214",
)
WEEK_OUT_OF_RANGE = Explained(
    "N502",
    "no such week",
    "The first two digits count the weeks of a year, from 01 to 53 [CFR574]. They are not a month "
    "and not the year.",
    "Read the digits again; week and year may have changed places.",
    "5416",
    "1654",
)
WHOLE_IDENTIFICATION = Explained(
    "N503",
    "more than the date code",
    "The identification number holds plant, size and maker's codes before the date; only the last "
    "group says when the tyre was made [CFR574].",
    "Keep the last group of digits and leave the rest out.",
    "DOT AB12 CDEF 2501",
    "2501",
)
CODES: tuple[Explained, ...] = (NOT_A_DATE_CODE, WEEK_OUT_OF_RANGE, WHOLE_IDENTIFICATION)
# Both patterns see at most LONGEST_NOTATION characters.
_LAST_GROUP = re.compile(r"[A-Z0-9].*?\b[A-Z]*([0-9]{4}) *$", re.ASCII | re.IGNORECASE)
_SPLIT_PAIR = re.compile(r"([0-9]{2})[ /.-]([0-9]{2})", re.ASCII)
_EXPECTED = "week and year in four digits, such as `0823` for week 08 of 2023"


@dataclass(frozen=True)
class DateCode:
    """A week, and the years it may belong to: one for four digits, several for three."""

    week: int
    years: tuple[int, ...]
    digits: str
    typed: str = field(compare=False, default="")

    def __str__(self) -> str:
        return self.digits

    @property
    def is_certain(self) -> bool:
        """Whether the code names one year."""
        return len(self.years) == 1


def read_date_code(text: str) -> DateCode:
    """Read the date code of a tyre.

    Raises Misread (N501 to N503).
    Source: [CFR574], date code of the tire identification number.

    >>> read_date_code("2501")
    DateCode(week=25, years=(2001,), digits='2501', typed='2501')
    >>> read_date_code("317").years
    (1977, 1987, 1997)
    """
    cursor = Cursor(readable(text, NOT_A_DATE_CODE, expected=_EXPECTED))
    found = cursor.take("[0-9]{3,4}(?![0-9A-Z])")
    if found is None or cursor.rest:
        raise _not_a_date_code(text)
    digits = found.group().strip(" ")
    week = int(digits[:2])
    if not 1 <= week <= LAST_WEEK:
        start = found.end() - len(digits)
        raise WEEK_OUT_OF_RANGE.misread(
            f"`{digits[:2]}` is not a week", start, start + 2, expected="a week from 01 to 53"
        )
    if len(digits) == 3:
        return DateCode(week, _years_ending_in(int(digits[2]), week), digits, text)
    return DateCode(week, (FOUR_DIGIT_YEAR + int(digits[2:]),), digits, text)


def _not_a_date_code(text: str) -> Misread:
    tail = _LAST_GROUP.search(text)
    if tail is not None:
        return WHOLE_IDENTIFICATION.misread(
            f"`{text}` is more than a date code",
            0,
            tail.start(1),
            expected=_EXPECTED,
            fix=tail.group(1),
        )
    pair = _SPLIT_PAIR.fullmatch(text.strip(" "))
    fix = f"{pair.group(1)}{pair.group(2)}" if pair else ""
    return NOT_A_DATE_CODE.misread(
        f"`{text}` is not a date code", 0, len(text), expected=_EXPECTED, fix=fix
    )


def _years_ending_in(digit: int, week: int) -> tuple[int, ...]:
    years = tuple(
        year for year in range(FIRST_IDENTIFIED_YEAR, FOUR_DIGIT_YEAR) if year % 10 == digit
    )
    return (*years, FOUR_DIGIT_YEAR) if digit == 0 and week <= LAST_THREE_DIGIT_WEEK else years


def week_days(code: DateCode) -> tuple[date, date]:
    """First and last day on which a tyre with this code can have been made.

    The Sunday and the Saturday of the week; for a code of several years, the Sunday of the first
    and the Saturday of the last. Week 53 of a year with 52 whole weeks is week 01 of the next.

    Source: [CFR574], date code of the tire identification number, from memory.

    >>> week_days(read_date_code("0124"))
    (datetime.date(2024, 1, 7), datetime.date(2024, 1, 13))
    """
    first = _first_sunday(code.years[0]) + timedelta(weeks=code.week - 1)
    last = _first_sunday(code.years[-1]) + timedelta(weeks=code.week - 1, days=6)
    return first, last


def _first_sunday(year: int) -> date:
    new_year = date(year, 1, 1)
    return new_year + timedelta(days=(6 - new_year.weekday()) % 7)
