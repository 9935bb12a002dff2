"""How much thread holds a wheel, from what a record says, and how well that is known."""

from generator.assessment.car import End
from generator.frozen import dataclass
from generator.geometry.threads import engagement_from_turns
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.thread import Thread
from generator.quantities.units import Turns
from generator.records.dimensions import FINE_U, measured

TURNS_U: Turns = 0.25
"""A count of turns is good to a quarter of one: common practice."""


@dataclass(frozen=True)
class Engaged:
    """An engaged length and the words for it. `is_most` is True where it can only be less."""

    length: Estimate
    words: str
    is_most: bool = False


def thread_engaged(end: End, thread: Thread) -> Engaged | None:
    """Give the engagement: as written, else by turns, else the most that stud and pad leave.

    None where neither is known.
    """
    hardware = end.fitted.hardware
    if hardware is not None and hardware.engagement is not None:
        length = measured(hardware.engagement, FINE_U, "engagement measured")
        return Engaged(length, f"{length.value:.1f} mm of thread is engaged")
    if hardware is not None and hardware.turns is not None:
        turns = Estimate(hardware.turns.value, TURNS_U, Basis.MEASURED, ("turns counted",))
        length = engagement_from_turns(turns, thread.pitch)
        words = f"{turns.value:g} turns engage {length.value:.1f} mm of thread"
        return Engaged(length, words)
    stack = end.stack()
    if stack is None:
        return None
    offered = stack.past_seat()
    length = Estimate(max(0.0, offered.value), offered.u, offered.basis, offered.sources)
    return Engaged(length, f"at most {length.value:.1f} mm of thread can be engaged", is_most=True)
