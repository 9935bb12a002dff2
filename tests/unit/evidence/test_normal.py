"""The normal distribution function against scipy's."""

import numpy as np
from scipy.special import log_ndtr
from scipy.stats import norm

from generator.evidence.normal import log_normal_cdf, log_normal_density, normal_cdf


def test_log_cdf_agrees_with_scipy_from_the_far_tail_to_certainty():
    z = np.concatenate([np.linspace(-60.0, 9.0, 20_001), -np.logspace(2.0, 3.0, 50)])
    expected = log_ndtr(z)  # scipy.special.log_ndtr
    # relative error of Φ; where ln Φ itself is in the thousands its last bits bound the check
    allowed = 2e-11 + 4e-16 * np.abs(expected)
    assert np.all(np.abs(np.expm1(log_normal_cdf(z) - expected)) < allowed)


def test_cdf_and_density_agree_with_scipy():
    z = np.linspace(-12.0, 12.0, 4_001)
    np.testing.assert_allclose(normal_cdf(z), norm.cdf(z), rtol=2e-11)  # scipy.stats.norm
    np.testing.assert_allclose(log_normal_density(z), norm.logpdf(z), rtol=1e-13)


def test_cdf_never_falls():
    assert np.all(np.diff(normal_cdf(np.linspace(-9.0, 9.0, 100_001))) > -1e-15)
