"""Each turn of a nut engages one pitch of thread."""

from collections.abc import Iterator

from generator.geometry.threads import engagement_from_turns, turns_for
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.fitted import Hardware
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.told import apart, as_typed, mm

ALIKE: Mm = 0.5
MOST_IN_PAD = 2.5
"""Turns that a count from the first catch inside the pad adds, one to two: common practice."""

RULE = Rule(
    "R18",
    "turns and engagement disagree",
    Severity.WARNING,
    "A nut advances one pitch for each turn, so turns times pitch is the engaged length, within "
    "one pitch. Too little thread lets a wheel come off.",
    "Count the turns from the first catch to the seat with the wheel in place, and write turns "
    "times pitch as the engagement.",
    "common practice",
    "setup: {front: {hardware: {turns: 8}}}",
    "setup: {front: {hardware: {turns: 11.5}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Check one setup."""
    for axle, fitted, _ in case.axles():
        hardware = fitted.hardware
        if hardware is None or hardware.turns is None or hardware.engagement is None:
            continue
        turns, pitch = hardware.turns, hardware.thread.pitch
        counted = Estimate(turns.value, 0.0, Basis.MEASURED)
        by_turns = engagement_from_turns(counted, pitch).value
        off = hardware.engagement.value - by_turns
        if abs(off) <= pitch:
            continue
        route = (axle.value, "hardware")
        yield RULE.fault(
            case.setup.place(*route, "engagement"),
            f"engagement {as_typed(hardware.engagement)} and `{turns.typed}` turns of "
            f"`{hardware.thread}` disagree by {apart(off)}",
            expected=f"{mm(by_turns)}, within {pitch:.3g} mm: turns times the pitch",
            fix=_fix(hardware, by_turns, off),
            also=(
                marked(case.setup, f"{mm(by_turns)} of thread", *route, "turns"),
                marked(case.setup, f"a pitch of {pitch:.4g} mm", *route, "thread"),
            ),
        )


def _fix(hardware: Hardware, by_turns: Mm, off: Mm) -> str:
    if hardware.turns is None or hardware.engagement is None:
        return ""
    if abs(hardware.engagement.value - hardware.turns.value) <= ALIKE:
        return f"write `engagement: {mm(by_turns)}`: this is the number of turns"
    fewer = turns_for(-off, hardware.thread.pitch)
    if 0.0 < fewer <= MOST_IN_PAD:
        return "count again from where the nut catches, not from the first thread inside the pad"
    return "count the turns again with the wheel in place, and check the pitch"
