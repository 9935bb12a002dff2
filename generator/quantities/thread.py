"""Threads of studs, bolts and nuts: `M12x1.5`, `7/16-20 UNF`, and `LH` behind a left-hand thread.

Metric pitches are those of the general plan [ISO261], inch threads those of the coarse and fine
unified series [ASMEB1.1]; both lists are from memory.
"""

import re
from dataclasses import field
from enum import Enum
from fractions import Fraction

from generator.frozen import dataclass
from generator.quantities.cursor import Cursor, number, readable
from generator.quantities.misread import Explained
from generator.quantities.units import Mm

MM_PER_INCH: Mm = 25.4
METRIC_PITCHES: tuple[tuple[int, tuple[Mm, ...]], ...] = (
    (8, (1.25, 1.0, 0.75)),
    (10, (1.5, 1.25, 1.0, 0.75)),
    (12, (1.75, 1.5, 1.25, 1.0)),
    (14, (2.0, 1.5, 1.25, 1.0)),
    (16, (2.0, 1.5, 1.0)),
    (18, (2.5, 2.0, 1.5, 1.0)),
    (20, (2.5, 2.0, 1.5, 1.0)),
    (22, (2.5, 2.0, 1.5, 1.0)),
    (24, (3.0, 2.0, 1.5, 1.0)),
)
"""Nominal diameter in mm and its pitches, the coarse one first. [ISO261], from memory."""
UNIFIED_THREADS: tuple[tuple[str, int, int], ...] = (
    ("1/4", 20, 28),
    ("5/16", 18, 24),
    ("3/8", 16, 24),
    ("7/16", 14, 20),
    ("1/2", 13, 20),
    ("9/16", 12, 18),
    ("5/8", 11, 18),
    ("3/4", 10, 16),
    ("7/8", 9, 14),
)
"""Nominal size in inches, threads an inch coarse and fine. [ASMEB1.1], from memory."""

NOT_A_THREAD = Explained(
    "N301",
    "not a thread",
    "A metric thread is M, the diameter, x and the pitch in mm; an inch thread is the diameter as "
    "a fraction, a hyphen and the threads an inch.",
    "Write it as it stands on the nut's packet or as a pitch gauge shows.",
    "12x1.5",
    "M12x1.5",
)
PITCH_MISSING = Explained(
    "N302",
    "a thread without its pitch",
    "Studs of one diameter come in several pitches and a nut of the wrong one strips. By the "
    "standard a bare M12 means the coarse pitch, which is rare on wheels, so it is not guessed.",
    "Hold a pitch gauge against the stud and write the pitch behind x.",
    "M12",
    "M12x1.5",
)
PITCH_UNKNOWN = Explained(
    "N303",
    "a pitch that this diameter does not have",
    "The general plan of metric threads lists the pitches of each diameter [ISO261]; the unified "
    "series give each inch size one coarse and one fine thread [ASMEB1.1].",
    "Measure again with a pitch gauge; over ten threads the slip shows.",
    "M12x1.4",
    "M12x1.5",
)
DIAMETER_UNKNOWN = Explained(
    "N304",
    "a diameter that wheel threads do not have",
    "Wheel studs and bolts are M8 to M24 or 1/4 to 7/8 inch.",
    "Measure over the crests of the thread; they stand 0.1 to 0.3 mm under the nominal size.",
    "M13x1.5",
    "M12x1.5",
)
SERIES_MISMATCH = Explained(
    "N305",
    "letters that do not fit the threads an inch",
    "UNC is the coarse unified series and UNF the fine one, so letters and number say the same "
    "thing twice, and here they differ [ASMEB1.1].",
    "Count the threads over an inch and write the letters of that series, or none.",
    "1/2-20 UNC",
    "1/2-20 UNF",
)
CODES: tuple[Explained, ...] = (
    NOT_A_THREAD,
    PITCH_MISSING,
    PITCH_UNKNOWN,
    DIAMETER_UNKNOWN,
    SERIES_MISMATCH,
)
_EXPECTED = "a thread, such as `M12x1.5` or `1/2-20`"


class ThreadSystem(Enum):
    """The family of thread forms."""

    METRIC = "metric"
    UNIFIED = "unified inch"


@dataclass(frozen=True)
class Thread:
    """A thread: nominal diameter, pitch, system and hand; `name` is its canonical text."""

    name: str
    system: ThreadSystem
    diameter: Mm
    pitch: Mm
    left_hand: bool = False
    typed: str = field(compare=False, default="")

    def __str__(self) -> str:
        return f"{self.name} LH" if self.left_hand else self.name


def read_thread(text: str) -> Thread:
    """Read a thread.

    Raises Misread (N301 to N305).
    Source: [ISO261] and [ASMEB1.1] for the sizes, from memory.

    >>> str(read_thread("m12 × 1.50"))
    'M12x1.5'
    >>> str(read_thread("7/16-20"))
    '7/16-20 UNF'
    """
    cursor = Cursor(readable(text, NOT_A_THREAD, expected=_EXPECTED))
    if cursor.take("M"):
        name, diameter, pitch = _metric(cursor)
        system = ThreadSystem.METRIC
    elif cursor.sees("[0-9]{1,2} */ *[0-9]{1,2}"):
        name, diameter, pitch = _unified(cursor)
        system = ThreadSystem.UNIFIED
    else:
        bare = re.fullmatch(r"[0-9]{1,2} ?[x×] ?[0-9.]{1,4}", text.strip(" "), re.IGNORECASE)
        fix = f"M{text.strip(' ')}" if bare else ""
        raise cursor.unexpected(NOT_A_THREAD, expected=_EXPECTED, fix=fix)
    left_hand = cursor.take("LH(?![A-Z0-9])") is not None
    if cursor.rest:
        raise cursor.unexpected(NOT_A_THREAD, expected="nothing more, or `LH`", fix=name)
    return Thread(name, system, diameter, pitch, left_hand, text)


def _metric(cursor: Cursor) -> tuple[str, Mm, Mm]:
    size = cursor.take("([0-9]{1,2})(?![0-9.,])")
    if size is None:
        raise cursor.unexpected(NOT_A_THREAD, expected="the diameter in mm, such as `M12x1.5`")
    pitches = dict(METRIC_PITCHES).get(int(size.group(1)))
    if pitches is None:
        raise DIAMETER_UNKNOWN.misread(
            f"M{size.group(1)} is not a thread of wheels",
            *size.span(1),
            expected="M8, M10, M12, M14, M16, M18, M20, M22 or M24",
        )
    names = tuple(f"M{size.group(1)}x{pitch:g}" for pitch in pitches)
    choice = f"{', '.join(names[:-1])} or {names[-1]}"
    if cursor.take("[x×]") is None:
        if cursor.rest:
            raise cursor.unexpected(NOT_A_THREAD, expected=f"x and the pitch: {choice}")
        raise PITCH_MISSING.misread(
            f"M{size.group(1)} has no pitch", size.start(1) - 1, size.end(1), expected=choice,
            fix=choice,
        )  # fmt: skip
    pitch = cursor.take("([0-9](?:[.][0-9]{1,2})?)(?![0-9.,])")
    if pitch is None:
        fix = cursor.text.strip(" ").replace(",", ".") if cursor.text.count(",") == 1 else ""
        raise cursor.unexpected(NOT_A_THREAD, expected=f"the pitch: {choice}", fix=fix)
    value = float(pitch.group(1))
    if value not in pitches:
        raise PITCH_UNKNOWN.misread(
            f"M{size.group(1)} has no pitch of {value:g} mm", *pitch.span(1), expected=choice
        )
    return f"M{size.group(1)}x{number(pitch.group(1))}", float(size.group(1)), value


def _unified(cursor: Cursor) -> tuple[str, Mm, Mm]:
    size = cursor.take('([0-9]{1,2}) */ *([0-9]{1,2}) *(?:"|″|inch|in)?')
    known = {nominal: (coarse, fine) for nominal, coarse, fine in UNIFIED_THREADS}
    nominal = f"{int(size.group(1))}/{int(size.group(2))}" if size else ""
    if size is None or nominal not in known:
        start, end = (size.start(1), size.end(2)) if size else (0, len(cursor.text))
        raise DIAMETER_UNKNOWN.misread(
            f"{nominal} inch is not a thread of wheels", start, end, expected=f"{', '.join(known)}"
        )
    names = {known[nominal][0]: f"{nominal}-{known[nominal][0]} UNC"}
    names[known[nominal][1]] = f"{nominal}-{known[nominal][1]} UNF"
    choice = " or ".join(names.values())
    if not cursor.rest or cursor.sees("UN[CF]"):
        raise PITCH_MISSING.misread(
            f"{nominal} inch has no threads an inch", size.start(1), size.end(2), expected=choice,
            fix=choice,
        )  # fmt: skip
    count = cursor.take("(?:-|x|×) *([0-9]{1,2})(?![0-9.]) *(?:tpi(?![A-Z]))?")
    if count is None:
        raise cursor.unexpected(
            NOT_A_THREAD, expected=f"a hyphen and the threads an inch: {choice}"
        )
    threads = int(count.group(1))
    if threads not in names:
        raise PITCH_UNKNOWN.misread(
            f"{nominal} inch has no thread of {threads} an inch", *count.span(1), expected=choice
        )
    series = cursor.take("(UN[CF])(?![A-Z])")
    if series is not None and not names[threads].endswith(series.group(1).upper()):
        raise SERIES_MISMATCH.misread(
            f"{nominal}-{threads} is not {series.group(1).upper()}", *series.span(1),
            expected=names[threads], fix=names[threads],
        )  # fmt: skip
    return names[threads], float(Fraction(nominal)) * MM_PER_INCH, MM_PER_INCH / threads
