"""What is held of a site before any record: from the sheet, which itself may be wrong.

The mean correction μ follows N(mean, sd²) where the sheet is right. With probability
`sheet_wrong_share` the sheet has the site in the wrong place and μ follows N(mean, wide²) instead.

An entry can be wrong by itself (a slip of the pen), and a record as a whole (another backspacing
than was written, another tyre): then all its entries are off together. A sheet is looked at by
more people than one record, so it is held to be wrong more rarely: one record far from the sheet
is doubted, two cars that agree with each other overrule the sheet.
"""

from math import log, log1p

import numpy as np

from generator.evidence.normal import Array, log_normal_density
from generator.frozen import dataclass
from generator.quantities.units import Mm, Probability

_MOST_WRONG: Probability = 0.5


@dataclass(frozen=True)
class SitePrior:
    """What is held of a site's correction before any record, and of the care of the entries.

    mean, sd: of the mean correction μ, from the chassis sheet; sd > 0. car_spread: scale of the
    half-normal prior of τ, > 0. wrong_share: ε, of wrong entries in right records;
    record_wrong_share: ρ, of wrong records; both 0 to 0.5. wrong_sd: of the wide normal that wrong
    numbers follow, around `mean`, > 0. sheet_wrong_share: chance that the sheet's place is wrong,
    0 to 0.5. sheet_wrong_sd: of μ about `mean` then, > 0. Raises ValueError outside these ranges.
    """

    mean: Mm
    sd: Mm
    car_spread: Mm = 4.0
    wrong_share: Probability = 0.05
    record_wrong_share: Probability = 0.05
    wrong_sd: Mm = 30.0
    sheet_wrong_share: Probability = 0.01
    sheet_wrong_sd: Mm = 30.0

    def __post_init__(self) -> None:
        spreads = (self.sd, self.car_spread, self.wrong_sd, self.sheet_wrong_sd)
        if not all(np.isfinite((self.mean, *spreads))) or min(spreads) <= 0.0:
            raise ValueError(f"a prior needs finite numbers and spreads above 0, got {self}")
        shares = {
            "entries": self.wrong_share,
            "records": self.record_wrong_share,
            "sheets": self.sheet_wrong_share,
        }
        for what, share in shares.items():
            if not 0.0 <= share <= _MOST_WRONG:
                raise ValueError(f"the share of wrong {what} is 0 to 0.5, got {share}")

    @property
    def doubt(self) -> Probability:
        """The chance that a number is wrong, by itself or with its record."""
        return 1.0 - (1.0 - self.wrong_share) * (1.0 - self.record_wrong_share)

    @property
    def widest(self) -> Mm:
        """The largest standard deviation that μ can have."""
        return max(self.sd, self.sheet_wrong_sd) if self.sheet_wrong_share > 0.0 else self.sd

    def log_density(self, means: Array) -> Array:
        """Give ln of the density of μ, (n,) for means of shape (n,), mm.

        Source: own derivation: mixture of two normals with one mean.

        >>> sure = SitePrior(0.0, 2.0, sheet_wrong_share=0.0)
        >>> round(float(np.exp(sure.log_density(np.array([0.0])))[0]), 6)
        0.199471
        """
        right = log1p(-self.sheet_wrong_share) + _log_normal(means - self.mean, self.sd)
        if not self.sheet_wrong_share > 0.0:
            return right
        return np.asarray(np.logaddexp(right, self._log_wrong_sheet(means)))

    def sheet_wrong(self, means: Array) -> Array:
        """Give for each μ the probability that the sheet is wrong, (n,) for means (n,), mm.

        Source: own derivation: Bayes with the two normals of the prior.

        >>> sheet = SitePrior(0.0, 3.0)
        >>> [round(float(p), 3) for p in sheet.sheet_wrong(np.array([0.0, 40.0]))]
        [0.001, 1.0]
        """
        if not self.sheet_wrong_share > 0.0:
            return np.zeros_like(means)
        return np.asarray(np.exp(self._log_wrong_sheet(means) - self.log_density(means)))

    def _log_wrong_sheet(self, means: Array) -> Array:
        return log(self.sheet_wrong_share) + _log_normal(means - self.mean, self.sheet_wrong_sd)


def _log_normal(distances: Array, spread: Mm) -> Array:
    return np.asarray(log_normal_density(distances / spread) - log(spread))
