"""Fine and coarse runs of nodes together, against numerical integration."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import norm

from generator.evidence.lattice import Lattice, laid, runs


def peak_and_tail(x):
    """A sharp peak on a wide hill, as one entry far from a doubted sheet leaves them."""
    return 0.9 * norm.pdf(x, -38.0, 0.7) + 0.1 * norm.pdf(x, 0.0, 30.0)


def lattice(found):
    start, step = -260.0, 520.0 / 2**14
    slices = tuple(laid(run, start, step, car_spread=1.0, weight=2.0) for run in found)
    return Lattice(start, step, 2**14, slices)


def seamed():
    return lattice(runs(-240.0, 240.0, step=0.49, most=800.0, sharp=(-42.0, -34.0)))


def test_a_seamed_sum_agrees_with_numerical_integration():
    nodes = seamed()
    means = nodes.means()
    for power in (0, 1, 2):
        weights = nodes.volumes() * np.exp(nodes.log_shares())
        found = np.sum(weights * peak_and_tail(means) * means**power)
        # scipy.integrate.quad, twice for the weight of the slices
        ends, inside = (-240.0, 240.0), [-42.0, -38.0, -34.0]
        expected, _ = quad(lambda x, k=power: peak_and_tail(x) * x**k, *ends, points=inside)
        assert found == pytest.approx(2.0 * expected, rel=1e-7)


def test_shares_of_one_place_sum_to_one():
    nodes = seamed()
    found = dict.fromkeys(range(nodes.size), 0.0)
    fine, *tails = nodes.slices
    for part in (fine, *tails):
        share = np.exp(Lattice(nodes.start, nodes.step, nodes.size, (part,)).log_shares())
        for place, value in zip(nodes.places(part).tolist(), share.tolist(), strict=True):
            found[place] += value
    coarse = max(part.stride for part in tails)
    everywhere = range(min(t.first for t in tails), nodes.size - 2 * coarse, coarse)
    sums = [found[place] for place in everywhere if -200.0 < nodes.start + nodes.step * place < 200]
    assert sums == pytest.approx([1.0] * len(sums), abs=1e-6)


def test_seams_spare_nodes_where_there_is_a_tail():
    plain = lattice(runs(-240.0, 240.0, step=0.49, most=2_000.0, sharp=(-240.0, 240.0)))
    assert len(plain.slices) == 1
    assert len(seamed().means()) < 0.6 * len(plain.means())


@pytest.mark.parametrize("step", [2.5, 6.0])
def test_what_is_coarse_anyway_has_no_seams(step):
    (run,) = runs(-240.0, 240.0, step=step, most=800.0, sharp=(-5.0, 5.0))
    assert (run.low, run.high, run.step) == (-240.0, 240.0, step)


def test_a_tail_on_one_side_has_one_seam():
    fine, tail = runs(-8.0, 230.0, step=0.3, most=800.0, sharp=(-10.0, 10.0))
    assert fine.low == -8.0
    assert tail.high == 230.0
    assert fine.below == tail.above
    assert tail.low < fine.high < tail.high


def test_a_run_has_no_more_nodes_than_asked():
    found = lattice(runs(-100.0, 100.0, step=0.1, most=96.0, sharp=(-100.0, 100.0)))
    # the stride is a power of two, so up to twice as many and one at each end
    assert len(found.means()) <= 2 * 96 + 2
