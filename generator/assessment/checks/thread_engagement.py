"""Too little thread holds the wheel."""

from collections.abc import Iterator

from generator.assessment.car import End
from generator.assessment.engagement import Engaged, thread_engaged
from generator.assessment.finding import Caution, Finding, Follows, Gravity, Hazard, Outcome
from generator.assessment.written import apart
from generator.geometry.fastening import engagement_check
from generator.published import fastening
from generator.quantities.thread import Thread
from generator.records.joint import has_bolt_on_spacer, thread_of

HAZARD = Hazard(
    "H01",
    "thread engagement",
    "The wheel is held by the engaged thread alone. Too short a length strips, and a wheel that "
    "strips its threads comes off without a warning. Turns times pitch is the engaged length.",
    "PRACTICE",
    Gravity.DANGER,
    Caution.FASTENERS,
)
COUNT = (
    "Count the turns of a nut from where it catches to where it seats, with spacer and wheel in "
    "place; turns times the pitch is the engaged length."
)


def findings(end: End) -> Iterator[Finding]:
    """Hold the engagement against one diameter of the thread.

    Source: [PRACTICE] one nominal diameter wanted, 0.8 the least to be driven on.
    """
    thread = thread_of(end.fitted, end.sheet)
    engaged = None if thread is None else thread_engaged(end, thread)
    if thread is None or engaged is None:
        yield HAZARD.not_known(
            end.where, "How much thread holds the wheel is not known.", measure=COUNT
        )
    else:
        yield _against_diameter(end, thread, engaged)
    if has_bolt_on_spacer(end.fitted):
        yield HAZARD.not_known(
            end.where,
            "A bolt-on spacer has two joints; the record describes one of them.",
            measure="Count the turns of the inner nuts too: spacer on hub is a joint of its own, "
            "with a torque of its own.",
        )


def _against_diameter(end: End, thread: Thread, engaged: Engaged) -> Finding:
    bounds = fastening.engagement()
    check = engagement_check(engaged.length, thread.diameter, in_diameters=bounds.wanted)
    sentence = (
        f"{engaged.words[0].upper()}{engaged.words[1:]} in {thread}, "
        f"{apart(check.value, bounds.wanted, 2)[0]} of its "
        f"diameter; {bounds.wanted:.3g} is wanted."
    )
    if engaged.is_most and Outcome(check.outcome.value) is not Outcome.FAILS:
        return HAZARD.not_known(end.where, sentence, measure=COUNT)
    least = engagement_check(engaged.length, thread.diameter, in_diameters=bounds.least)
    short = "" if Outcome(least.outcome.value) is Outcome.HOLDS else "Do not drive. "
    follows = Follows(
        holds="Count again after any change of spacer, nut or wheel; event rules may ask for more.",
        fails=f"{short}Longer studs or bolts, a thinner spacer or none, and a workshop's judgement "
        "of the joint; the vehicle maker's figure governs.",
    )
    return HAZARD.checked(end.where, check, "diameters", sentence=sentence, follows=follows)
