"""What is held before any record, against scipy's statistics."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import norm

from generator.evidence.prior import SitePrior

MEANS = np.linspace(-90.0, 110.0, 41)


@pytest.mark.parametrize("sd", [1.0, 8.0, 40.0])
def test_density_is_that_of_two_normals(sd):
    # scipy.stats.norm; 1 % of sheets are wrong by 30 mm (one sigma)
    expected = 0.99 * norm.pdf(MEANS, 2.0, sd) + 0.01 * norm.pdf(MEANS, 2.0, 30.0)
    np.testing.assert_allclose(np.exp(SitePrior(2.0, sd).log_density(MEANS)), expected, rtol=1e-12)


def test_density_sums_to_one():
    prior = SitePrior(-3.0, 2.0, sheet_wrong_share=0.2, sheet_wrong_sd=15.0)
    # scipy.integrate.quad
    total, _ = quad(
        lambda m: float(np.exp(prior.log_density(np.array([m])))[0]), -150, 150, points=[-3.0]
    )
    assert total == pytest.approx(1.0, abs=1e-8)


def test_chance_of_a_wrong_sheet_is_bayes():
    right, wrong = norm.pdf(MEANS, 0.0, 3.0), norm.pdf(MEANS, 0.0, 30.0)  # scipy.stats.norm
    expected = 0.01 * wrong / (0.99 * right + 0.01 * wrong)
    np.testing.assert_allclose(SitePrior(0.0, 3.0).sheet_wrong(MEANS), expected, rtol=1e-12)


def test_a_sheet_held_as_right_is_never_wrong():
    sure = SitePrior(1.0, 4.0, sheet_wrong_share=0.0)
    expected = norm.logpdf(MEANS, 1.0, 4.0)  # scipy.stats.norm
    np.testing.assert_allclose(sure.log_density(MEANS), expected, rtol=1e-12)
    assert np.all(sure.sheet_wrong(MEANS) == 0.0)
    assert (sure.widest, SitePrior(1.0, 4.0).widest) == (4.0, 30.0)
