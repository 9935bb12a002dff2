"""The checks of a page: what each counts as, and what of them stands in its first lines."""

from dataclasses import replace

from generator.assessment.assess import assess
from generator.assessment.checks import rim_width, scrub_radius, tyre_load
from generator.assessment.finding import Follows, Where
from generator.geometry.bound import at_least
from generator.quantities.estimate import Basis, Estimate
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.records.words import Axle
from generator.site.checks_shown import checks_of, failing_words

WORDS = Follows(holds="It holds.", fails="Stop.")
FRONT = Where(Axle.FRONT)


def doubtful(hazard):
    """826 ± 25 of 800 that are wanted: 26 above, less than twice its spread."""
    known = Estimate(826.0, 25.0, Basis.INFERRED, ())
    check = at_least(known, 800.0, source="ETRTO")
    return hazard.checked(FRONT, check, "kg", sentence="826 of 800.", follows=WORDS)


def assessed(*findings):
    case = next(iter(collect(example_files("setup: {}")).library.cases()))
    return replace(assess(case), findings=findings)


def test_a_danger_that_cannot_be_told_fails_in_one_word():
    (line,) = checks_of(assessed(doubtful(tyre_load.HAZARD)), Axle.FRONT).open
    assert (line.outcome, line.gravity) == ("fails", "do not drive")
    assert line.follows.startswith("Known to ±25 kg, it cannot be told")
    (line,) = checks_of(assessed(doubtful(scrub_radius.HAZARD)), Axle.FRONT).open
    assert (line.outcome, line.gravity) == ("too close to say", "")


def test_what_fails_is_named_the_gravest_first():
    failing = scrub_radius.HAZARD.judged(FRONT, holds=False, sentence="It turns.", follows=WORDS)
    holding = rim_width.HAZARD.judged(FRONT, holds=True, sentence="It fits.", follows=WORDS)
    found = assessed(failing, failing, holding, doubtful(tyre_load.HAZARD))
    assert failing_words(found) == (
        "do not drive: load capacity of the tyres (front)",
        "put it right: scrub radius (front)",
    )
    assert failing_words(None) == ()
