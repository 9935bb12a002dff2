"""The threads strip before the stud breaks."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.engagement import thread_engaged
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard, Outcome
from generator.geometry.bound import at_least
from generator.geometry.threads import (
    Strengths,
    ThreadLimits,
    engagement_for_strength,
)
from generator.published import fastening
from generator.quantities.thread import Thread
from generator.quantities.units import Mm
from generator.records.joint import thread_of

ASSUMED_CLASS = "10.9"
"""Property class of wheel studs where a sheet names none: assumed, the usual one."""

HAZARD = Hazard(
    "H02",
    "stripping of the threads",
    "A joint should fail, if it must, by a stud that breaks and is seen, not by threads that strip "
    "one after the other. Below a certain length the threads go first.",
    "FEDSTDH28",
    Gravity.DANGER,
    Caution.FASTENERS,
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the engagement against the length at which stud and threads are equally strong.

    Model: stud of the assumed property class in a nut or hub of equal strength; aluminium or a
    softer nut needs more.
    Source: [FEDSTDH28] section 2B, least engagement; [ISO965-2] limits of size, from memory.
    """
    thread = thread_of(end.fitted, end.sheet)
    engaged = None if thread is None else thread_engaged(end, thread)
    least = None if thread is None else least_length(thread)
    if thread is None or engaged is None or least is None:
        what = "the engaged length" if engaged is None else f"the limits of size of {thread}"
        yield HAZARD.not_known(
            end.where,
            f"Whether the threads would strip first is not known, as {what} is not.",
            measure="Count turns from catch to seat, and ask the maker of studs and nuts for the "
            "length they need.",
        )
        return
    check = at_least(engaged.length, least, source="FEDSTDH28")
    sentence = (
        f"{engaged.words[0].upper()}{engaged.words[1:]}; {thread} threads of property class "
        f"{ASSUMED_CLASS} (assumed) in equally strong steel need {least:.1f} mm to outlast the "
        "stud."
    )
    if engaged.is_most and Outcome(check.outcome.value) is not Outcome.FAILS:
        yield HAZARD.not_known(
            end.where, sentence, measure="Count the turns from catch to seat with the wheel on."
        )
        return
    follows = Follows(
        holds="Softer nuts or aluminium hubs need more length.",
        fails="Do not drive: the thread would strip first. More engagement, judged by a workshop.",
    )
    yield HAZARD.checked(end.where, check, "mm", sentence=sentence, follows=follows)


def least_length(thread: Thread) -> Mm | None:
    """Give the engagement at which a stud breaks before equally strong threads strip.

    None for a thread whose limits of size the guide does not know.
    Source: [FEDSTDH28] section 2B, L_e,min.

    >>> from generator.quantities.thread import read_thread
    >>> round(least_length(read_thread("M12x1.5")), 2)
    9.24
    """
    try:
        known = fastening.stripping_limits(thread)
        area = fastening.stress_area(thread)
    except LookupError:
        return None
    limits = ThreadLimits(
        thread.pitch,
        known.stud_major_least,
        known.stud_pitch_least,
        known.nut_pitch_greatest,
        known.nut_minor_greatest,
    )
    strength = fastening.property_class(ASSUMED_CLASS).tensile_strength
    return engagement_for_strength(limits, area, strengths=Strengths(strength, strength))
