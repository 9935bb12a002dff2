"""What the section through one left hub of a setup shows."""

from generator.assessment.assess import AxleAssessment
from generator.assessment.corner import at_side
from generator.records.axle_sheet import AxleSheet
from generator.records.fitted import AxleSetup
from generator.records.library import Case
from generator.records.words import Side, State
from generator.site.drawings import SectionSubject
from generator.site.readings import disputed_sites
from generator.site.sides_shown import left_fit, sides_differ


def section_of(
    case: Case, end: AxleAssessment, fitted: AxleSetup, sheet: AxleSheet
) -> SectionSubject:
    """Give what is drawn of one end: the left wheel as it stands there, and its sites."""
    sites = case.chassis.value.sites if case.chassis else ()
    return SectionSubject(
        id=f"section-{end.axle.value}",
        fit=left_fit(end.axle, fitted, sheet, end.fit),
        sheet=sheet,
        setup=at_side(fitted, Side.LEFT),
        sites=tuple(site for site in sites if site.axle is end.axle),
        gaps=tuple(gap for gap in case.setup.value.gaps if gap.state is State.STATIC),
        disputed=disputed_sites(case.setup.value),
        differs=sides_differ(fitted),
    )
