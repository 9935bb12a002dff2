"""The checks of hardware, loads, brakes and parts, in the order in which they matter."""

from generator.assessment.assess import Assessment
from generator.assessment.finding import Finding, Gravity, Outcome
from generator.assessment.hazards import counts_as, gravity_of
from generator.frozen import dataclass
from generator.published.tables import source
from generator.records.words import Axle, Side
from generator.site import urls
from generator.site.shell import Link

_ORDER = (
    Outcome.FAILS,
    Outcome.TOO_CLOSE_TO_SAY,
    Outcome.NOT_KNOWN,
    Outcome.HOLDS,
    Outcome.STATED,
)


@dataclass(frozen=True)
class CheckLine:
    """One finding. `gravity` is what the hazard can do, said where the check fails.

    `outcome` is what it counts as: what cannot be told fails where it is dangerous.
    """

    outcome: str
    hazard: str
    side: str
    sentence: str
    follows: str
    gravity: str
    source: Link
    standing: str


@dataclass(frozen=True)
class ChecksOfEnd:
    """Findings of one end, or of the whole car: what needs a look, and the rest."""

    open: tuple[CheckLine, ...]
    settled: tuple[CheckLine, ...]


def checks_of(assessment: Assessment | None, axle: Axle | None) -> ChecksOfEnd:
    """Give the findings of one end of a car, or with None those of the whole car."""
    if assessment is None:
        return ChecksOfEnd((), ())
    found = [finding for finding in assessment.findings if finding.axle is axle]
    found.sort(key=lambda finding: (_ORDER.index(counts_as(finding)), finding.code))
    needs_look = _ORDER[:3]
    return ChecksOfEnd(
        tuple(_line(each) for each in found if each.outcome in needs_look),
        tuple(_line(each) for each in found if each.outcome not in needs_look),
    )


def failing_words(assessment: Assessment | None) -> tuple[str, ...]:
    """Name the checks that fail, the gravest first: what to do, and which, with end and side."""
    found: dict[Gravity, list[str]] = {gravity: [] for gravity in Gravity}
    for finding in assessment.findings if assessment else ():
        if counts_as(finding) is Outcome.FAILS:
            where = [finding.axle.value] if finding.axle else []
            where += [] if finding.side is Side.BOTH else [finding.side.value]
            place = f" ({' '.join(where)})" if where else ""
            found[gravity_of(finding)].append(f"{finding.hazard}{place}")
    return tuple(
        f"{gravity.value}: {'; '.join(dict.fromkeys(names))}"
        for gravity, names in found.items()
        if names
    )


def _line(finding: Finding) -> CheckLine:
    gravity, outcome = gravity_of(finding), counts_as(finding)
    fails = outcome is Outcome.FAILS
    label, href, standing = _source(finding.source)
    return CheckLine(
        outcome=outcome.value,
        hazard=finding.hazard,
        side="" if finding.side.value == "both" else finding.side.value,
        sentence=finding.sentence,
        follows=finding.follows,
        gravity=gravity.value if fails and gravity is not Gravity.NOTE else "",
        source=Link(label, href),
        standing=standing,
    )


def _source(key: str) -> tuple[str, str, str]:
    """Give a source's key, its place on the method page and how it is known; words stay words."""
    try:
        found = source(key)
    except LookupError:
        return key, "", "read"
    if found.key == "PRACTICE":
        return "common practice", urls.source(found.key), "read"
    return found.key, urls.source(found.key), found.known.value
