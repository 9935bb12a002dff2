"""Too little thread is engaged."""

from collections.abc import Iterator

from generator.frozen import dataclass
from generator.geometry.fastening import engagement_check
from generator.published import fastening
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.axle_sheet import AxleSheet
from generator.records.fitted import AxleSetup
from generator.records.joint import stack_of, thread_of
from generator.records.library import Case
from generator.records.rule import Rule
from generator.records.told import apart, mm
from generator.records.words import Axle

RULE = Rule(
    code="R19",
    title="too little thread engaged",
    severity=Severity.ERROR,
    why="A nut that holds by less than 0.8 of the thread's diameter can strip, and the wheel comes "
    "off without a warning. The club asks for one diameter; the vehicle maker's figure governs.",
    mend="Do not drive. Take the spacer out, fit longer studs or bolts, or other nuts, and let a "
    "workshop judge the joint.",
    source="common practice",
    bad="setup: {front: {hardware: {engagement: 9 mm, turns: 6}}}",
    good="setup: {front: {hardware: {engagement: 13.5 mm, turns: 9}}}",
)


@dataclass(frozen=True)
class _Said:
    """An engaged length, the words for it, and where its number stands."""

    length: Mm
    words: str
    route: tuple[str, ...]


def check(case: Case) -> Iterator[Fault]:
    """Hold the engagement of both ends against the thread's diameter."""
    bounds = fastening.engagement()
    for axle, fitted, sheet in case.axles():
        thread = thread_of(fitted, sheet)
        said = _engagement(axle, fitted, sheet)
        if thread is None or said is None:
            continue
        length = Estimate(said.length, 0.0, Basis.MEASURED)
        wanted = engagement_check(length, thread.diameter, in_diameters=bounds.wanted)
        least = engagement_check(length, thread.diameter, in_diameters=bounds.least)
        if wanted.outcome.value == "holds":
            continue
        short = wanted.bound * thread.diameter - said.length
        fault = RULE.fault(
            case.setup.place(*said.route),
            f"{said.words} engaged in {thread}, {wanted.value:.2f} of its diameter",
            expected=f"{mm(thread.diameter)} or more, {apart(short)} more than this; below "
            f"{mm(least.bound * thread.diameter)} do not drive",
            fix="use longer studs or bolts, or a thinner spacer, and measure again",
        )
        yield RULE.warning(fault) if least.outcome.value == "holds" else fault


def _engagement(axle: Axle, fitted: AxleSetup, sheet: AxleSheet | None) -> _Said | None:
    """Give what the record says, else the most that stud, spacer and pad leave."""
    hardware = fitted.hardware
    if hardware is not None and hardware.engagement is not None:
        route = (axle.value, "hardware", "engagement")
        return _Said(hardware.engagement.value, f"{hardware.engagement.typed} of thread", route)
    if hardware is not None and hardware.turns is not None:
        length = hardware.turns.value * hardware.thread.pitch
        words = f"{hardware.turns.typed} turns make {mm(length)} of thread"
        return _Said(length, words, (axle.value, "hardware", "turns"))
    stack = stack_of(fitted, sheet)
    if stack is None:
        return None
    length = max(0.0, stack.past_seat().value)
    return _Said(length, f"at most {mm(length)} of thread", _longest_known(axle, fitted))


def _longest_known(axle: Axle, fitted: AxleSetup) -> tuple[str, ...]:
    if fitted.hardware is not None and fitted.hardware.length is not None:
        return (axle.value, "hardware", "length")
    return (axle.value, "wheel", "pad_thickness")
