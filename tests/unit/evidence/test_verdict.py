"""What the next car may expect: chances against independent integration, and refusals."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import halfnorm, norm

from generator.evidence.candidate import AxleChange
from generator.evidence.club import prior
from generator.evidence.verdict import verdict, word_of
from generator.records.words import Axle, StopState


@pytest.mark.parametrize(
    ("chance", "free", "word"),
    [
        # The design of the guide: 90 % of the wanted gap clears, less than even odds of any
        # gap touches, and what is not known is said to be so.
        (0.90, 0.99, "clears"),
        (0.89, 0.99, "tight"),
        (0.10, 0.50, "tight"),
        (0.10, 0.49, "touches"),
        (None, None, "not known"),
        (float("nan"), float("nan"), "touches"),
    ],
)
def test_words_follow_the_chances(chance, free, word):
    assert word_of(chance, free) == word


def chance_by_scipy(held, gap, wanted, u):
    """P(gap + c + e > wanted), c ~ N(0, s² + τ²), τ half-normal of scale 4, e ~ N(0, u²)."""

    def given(t, s):
        return norm.sf(wanted - gap, 0.0, np.sqrt(s * s + t * t + u * u)) * halfnorm.pdf(t, 0, 4)

    parts = (
        (1.0 - held.sheet_wrong_share, held.sd),
        (held.sheet_wrong_share, held.sheet_wrong_sd),
    )
    return sum(weight * quad(given, 0.0, 40.0, args=(s,))[0] for weight, s in parts)


@pytest.mark.parametrize(("spacer", "gap"), [(0.0, 14.0), (5.0, 19.0)])
def test_the_chance_of_a_site_is_the_integral(bench, spacer, gap):
    candidate = bench.candidate(spacer)
    judged = verdict(bench.assessed(candidate.setup), bench.learn())
    site = judged.front.sites[0]
    u, held = site.clearance.least.u_setup, prior(site.clearance.site)
    assert site.chance == pytest.approx(chance_by_scipy(held, gap, 5.0, u), abs=2e-3)
    assert site.free == pytest.approx(chance_by_scipy(held, gap, 0.0, u), abs=2e-3)
    assert site.gap.median == pytest.approx(gap, abs=0.05)


def test_a_chassis_without_records_says_what_the_sheet_supports(bench):
    judged = verdict(bench.assessed(bench.candidate().setup), bench.learn())
    assert all(site.posterior.prior_only for site in judged.front.sites)
    assert 0.5 < judged.front.weakest.chance < 0.999


def test_all_sites_at_once_lie_between_the_bounds(meridel, assessments, evidence):
    for assessment in assessments.values():
        for axle in verdict(assessment, evidence).axles():
            known = [site.chance for site in axle.sites if site.chance is not None]
            at_least = max(0.0, 1.0 - sum(1.0 - chance for chance in known))  # Fréchet
            assert at_least - 1e-6 <= axle.joint.probability <= min(known) + 1e-6


def test_the_weakest_site_comes_first(assessments, evidence):
    for assessment in assessments.values():
        for axle in verdict(assessment, evidence).axles():
            # Chances that differ by less than a billionth are alike, and go by their names.
            chances = [
                -1.0 if each.chance is None else round(each.chance, 9) for each in axle.sites
            ]
            assert chances == sorted(chances)


@pytest.fixture(scope="module")
def without_stop(meridel):
    from datetime import date

    from generator.evidence.candidate import assess_candidate, like_stock

    candidate = like_stock(meridel, day=date(2026, 1, 1)).changed(
        Axle.FRONT, AxleChange(stop=StopState.REMOVED)
    )
    return assess_candidate(candidate)


def test_without_a_bump_stop_no_chance_is_given(without_stop, evidence):
    judged = verdict(without_stop, evidence)
    assert judged.chance is None
    assert any("bump stop was removed" in words for words in judged.refused)


def test_what_goes_with_the_wheel_is_judged_all_the_same(without_stop, evidence):
    judged = verdict(without_stop, evidence).front
    by_name = {site.clearance.site.name: site for site in judged.sites}
    assert by_name["fender-lip"].word == "not known"
    assert by_name["fender-lip"].chance is None
    assert by_name["spring-perch"].chance is not None
    assert judged.word == "not known"


def test_the_other_end_is_not_touched_by_it(without_stop, evidence):
    assert all(site.chance is not None for site in verdict(without_stop, evidence).rear.sites)


def test_contact_is_said_even_where_something_is_not_known(bench, make_site):
    hidden = make_site("hidden").model_copy(update={"reach": None})
    near = make_site("near").model_copy(
        update={
            "reach": make_site().reach.model_copy(update={"stock_gap": _minus_forty(make_site)})
        }
    )
    two = bench.with_sites(hidden, near)
    judged = verdict(two.assessed(two.candidate().setup), two.learn()).front
    assert {site.word for site in judged.sites} == {"not known", "touches"}
    assert judged.word == "touches"


def _minus_forty(make_site):
    from dataclasses import replace

    return replace(make_site().reach.stock_gap, value=-40.0)
