"""What the section through one left hub of a setup shows."""

from collections.abc import Iterator

from generator.assessment.assess import AxleAssessment
from generator.assessment.corner import at_side
from generator.records.axle_sheet import AxleSheet
from generator.records.fitted import AxleSetup
from generator.records.library import Case
from generator.records.setup import Gap
from generator.records.site_sheet import SiteSheet
from generator.records.words import Axle, Side, State
from generator.site.drawings import SectionSubject, SiteFound
from generator.site.readings import FREE_HERE, LEFT, TIGHT, TOUCHES, summary, word_of
from generator.site.sides_shown import left_fit, sides_differ


def section_of(
    case: Case, end: AxleAssessment, fitted: AxleSetup, sheet: AxleSheet, *, counts: bool
) -> SectionSubject:
    """Give what is drawn of one end: the left wheel as it stands there, and its sites.

    A record that no longer `counts` says nothing of any: its gaps stand without a word.
    """
    sites = case.chassis.value.sites if case.chassis else ()
    return SectionSubject(
        id=f"section-{end.axle.value}",
        fit=left_fit(end.axle, fitted, sheet, end.fit),
        sheet=sheet,
        setup=at_side(fitted, Side.LEFT),
        sites=tuple(site for site in sites if site.axle is end.axle),
        found=tuple(_found(case, end.axle, counts=counts)),
        differs=sides_differ(fitted),
    )


def _found(case: Case, axle: Axle, *, counts: bool) -> Iterator[SiteFound]:
    """Give what is said of each site that has a gap standing, is tight or touches."""
    for site in case.chassis.value.sites if case.chassis else ():
        if site.axle is not axle:
            continue
        gap = _standing(case, site)
        if not counts:
            if gap is not None:
                yield SiteFound(site.name, gap.gap, "", "")
            continue
        whole = summary(case, site, LEFT).word
        if gap is not None:
            word = word_of(case, gap)
            yield SiteFound(site.name, gap.gap, "" if word == FREE_HERE else word, whole)
        elif whole in (TIGHT, TOUCHES):
            yield SiteFound(site.name, None, "", whole)


def _standing(case: Case, site: SiteSheet) -> Gap | None:
    for gap in case.setup.value.gaps:
        is_here = gap.side in LEFT and case.site(gap.site, gap.axle) is site
        if is_here and gap.state is State.STATIC:
            return gap
    return None
