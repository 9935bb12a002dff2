"""The table that stands for a distribution: convolution, monotony, error."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import norm, uniform

from generator.evidence.distribution import Distribution, tabulated

STEPS = Distribution((-4.0, -1.0, -0.999, 2.0, 9.0), (0.0, 0.2, 0.5, 0.9, 1.0), 0.0)


def blurred(x, u):
    """P(c + e ≤ x) as ∫ φ(e/u)/u · P(c ≤ x − e) de by scipy.integrate.quad."""
    corners = sorted({x - k for k in STEPS.knots if abs(x - k) < 10 * u} | {0.0})
    value, _ = quad(
        lambda e: norm.pdf(e, 0.0, u) * np.interp(x - e, STEPS.knots, STEPS.below),
        -10 * u,
        10 * u,
        points=corners,
        limit=500,
        epsabs=1e-12,
    )
    return value


@pytest.mark.parametrize("u", [0.01, 0.3, 2.0, 15.0, 400.0])
def test_blur_agrees_with_numerical_convolution(u):
    points = np.array([-6.0, -1.0, -0.2, 3.0, 8.0, 20.0])
    expected = [blurred(x, u) for x in points]  # scipy.integrate.quad
    np.testing.assert_allclose(STEPS.probability_below(points, u), expected, atol=2e-9)


def test_blur_of_a_uniform_agrees_with_scipy():
    flat = Distribution((0.0, 1.0), (0.0, 1.0), 0.0)
    # without blur the table is scipy.stats.uniform
    points = np.linspace(-1.0, 2.0, 31)
    np.testing.assert_allclose(flat.probability_below(points), uniform.cdf(points), atol=1e-15)


@pytest.mark.parametrize("u", [0.0, 1e-6, 0.02, 1.0, 50.0])
def test_probability_never_falls_as_the_threshold_falls(u):
    points = np.linspace(-30.0, 30.0, 6_001)
    assert np.all(np.diff(STEPS.probability_below(points, u)) >= -1e-12)


def test_a_tabled_normal_stays_within_its_stated_error():
    points = np.linspace(-40.0, 40.0, 8_001)
    table = tabulated(points, norm.cdf(points, 1.0, 3.0))
    fine = np.linspace(-30.0, 30.0, 40_001)
    found = table.probability_below(fine)
    worst = np.max(np.abs(found - norm.cdf(fine, 1.0, 3.0)))  # scipy.stats.norm
    assert worst < 1e-4
    assert worst == pytest.approx(table.error, rel=0.1)
    assert len(table.knots) <= 161


@pytest.mark.parametrize("u", [0.0, 0.5, 4.0, 30.0])
def test_range_of_a_tabled_normal_agrees_with_scipy(u):
    points = np.linspace(-60.0, 60.0, 12_001)
    found = tabulated(points, norm.cdf(points, 1.0, 3.0)).range(u)
    scale = np.hypot(3.0, u)
    expected = norm.ppf([0.05, 0.5, 0.95], 1.0, scale)  # scipy.stats.norm
    assert [found.low, found.median, found.high] == pytest.approx(expected, abs=1e-3 * scale)


def test_range_finds_a_sharp_core_in_wide_tails():
    points = np.linspace(-400.0, 400.0, 16_001)
    below = 0.95 * norm.cdf(points, 2.0, 0.5) + 0.05 * norm.cdf(points, 0.0, 60.0)
    found = tabulated(points, below).range(0.1)
    fine = np.linspace(-200.0, 200.0, 400_001)
    cdf = 0.95 * norm.cdf(fine, 2.0, np.hypot(0.5, 0.1)) + 0.05 * norm.cdf(fine, 0.0, 60.0)
    expected = np.interp([0.05, 0.5, 0.95], cdf, fine)  # scipy.stats.norm
    assert [found.low, found.median, found.high] == pytest.approx(expected, abs=5e-3)
