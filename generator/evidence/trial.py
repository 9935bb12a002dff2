"""Everything the guide says of a setup nobody has tried: verdict, remedies, what to measure."""

from generator.assessment.assess import Assessment
from generator.evidence.candidate import Candidate, assess_candidate, stock_axle
from generator.evidence.club import ChassisEvidence
from generator.evidence.remedies import SiteRemedies, remedies
from generator.evidence.verdict import AxleVerdict, SiteVerdict, Verdict, verdict
from generator.evidence.worth import Measurement, worth_measuring
from generator.frozen import dataclass
from generator.quantities.estimate import Basis
from generator.records.words import Axle


@dataclass(frozen=True)
class Trial:
    """A candidate, judged."""

    candidate: Candidate
    assessment: Assessment
    verdict: Verdict
    remedies: tuple[SiteRemedies, ...]
    worth: tuple[Measurement, ...]


def try_out(candidate: Candidate, evidence: ChassisEvidence) -> Trial:
    """Judge a candidate by what is known of its chassis."""
    assessment = assess_candidate(candidate)
    judged = verdict(assessment, evidence)
    mended = tuple(each for axle in judged.axles() for each in remedies(candidate, axle, evidence))
    worth = worth_measuring(evidence, {candidate.setup.id: judged})
    return Trial(candidate, assessment, judged, mended, worth)


def rests_on(trial: Trial, axle: Axle, site: SiteVerdict) -> str:
    """Say what the answer for one site rests on: records or sheet, and what tyre."""
    posterior = site.posterior
    if posterior is None:
        return "nothing"
    cars = "1 car" if posterior.cars == 1 else f"{posterior.cars} cars"
    records = "sheet alone" if posterior.prior_only else f"records of {cars}, and the sheet"
    return f"{records}; {tyre_known(trial, axle)}"


def tyre_known(trial: Trial, axle: Axle) -> str:
    """Say how the tyre's width is known."""
    chassis = trial.candidate.chassis.value
    end = trial.assessment.front if axle is Axle.FRONT else trial.assessment.rear
    sheet = chassis.front if axle is Axle.FRONT else chassis.rear
    tyre = end.fit.fitted.tyre
    if tyre is None:
        return "tyre not known"
    if tyre.section_width.basis is not Basis.MEASURED:
        return "tyre by its size alone"
    as_on_sheet = trial.candidate.axle(axle).tyre == stock_axle(sheet).tyre
    return "tyre as on the sheet" if as_on_sheet else "tyre as measured"


def joined_sides(axle: AxleVerdict) -> tuple[tuple[SiteVerdict, str], ...]:
    """Give the sites with the word for their side, once where both sides are alike."""
    rows: list[tuple[SiteVerdict, str]] = []
    told: set[int] = set()
    for index, site in enumerate(axle.sites):
        if index in told:
            continue
        twin = next(
            (
                place
                for place, other in enumerate(axle.sites[index + 1 :], index + 1)
                if other.clearance is site.clearance
                and (other.chance, other.gap, other.refused)
                == (site.chance, site.gap, site.refused)
            ),
            None,
        )
        if twin is not None:
            told.add(twin)
        rows.append((site, "both" if twin is not None else site.side.value))
    return tuple(rows)
