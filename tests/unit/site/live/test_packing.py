"""Packed tables: what the browser has is the published limit, to well below what is shown."""

import numpy as np
import pytest
from scipy.stats import norm

from generator.evidence.distribution import Distribution, tabulated
from generator.site.live.packing import packed, unpacked


def _table(step: float = 0.05) -> Distribution:
    points = np.arange(-30.0, 42.0, step)
    # scipy is the source of the distribution that is packed
    return tabulated(points, norm.cdf(points, loc=3.0, scale=4.0))


def test_a_table_comes_back_to_a_billionth_of_probability_and_of_a_millimetre() -> None:
    table = _table()
    back = unpacked(packed(table))
    assert np.allclose(back.knots, table.knots, rtol=0.0, atol=1e-9)
    assert np.allclose(back.below, table.below, rtol=0.0, atol=1e-9)


@pytest.mark.parametrize("step", [0.01, 0.0371, 0.2])
def test_the_lattice_is_found_whatever_its_step(step: float) -> None:
    knots = np.array(_table(step).knots)
    found = packed(_table(step))
    places = (knots - found.start) / found.step
    assert np.allclose(places, np.round(places), atol=1e-6)


def test_a_table_on_no_lattice_is_refused() -> None:
    with pytest.raises(ValueError, match="lattice"):
        packed(Distribution((0.0, 1.0, 1.0 + np.pi / 3), (0.0, 0.5, 1.0), 0.0))


def test_a_table_takes_six_bytes_a_knot() -> None:
    table = _table()
    # base64 makes four letters of three bytes: eight letters a knot
    assert len(packed(table).cells) == 8 * len(table.knots)
