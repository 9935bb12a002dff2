"""What simulation-based calibration found, kept so that the guide can tell it.

Each line is a run of `calibration.calibrate` that the tests make anew; they fail if these figures
are no longer what comes out. Source: [TALTS] for the method.
"""

from generator.frozen import dataclass
from generator.quantities.units import Ratio

SITES = 2_000


@dataclass(frozen=True)
class Proof:
    """Shares of simulated sites whose 90 % range held the truth; `words` says what was drawn."""

    words: str
    seed: int
    next_car: Ratio
    mean: Ratio
    car_spread: Ratio


AS_HELD = Proof(
    "as is held: one entry in ten wrong, by itself or with its record, and one sheet in a hundred",
    7,
    0.899,
    0.91,
    0.903,
)
TWICE_AS_WRONG = Proof("twice as many wrong entries, one in five", 8, 0.896, 0.8805, 0.8785)
RIGHT_SHEETS = Proof("sheets that are all right", 9, 0.9075, 0.893, 0.8965)
WRONG_SHEETS = Proof("five times as many wrong sheets, one in twenty", 10, 0.89, 0.899, 0.9005)
PROOFS = (AS_HELD, TWICE_AS_WRONG, RIGHT_SHEETS, WRONG_SHEETS)
