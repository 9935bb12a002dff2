"""What is really fitted to the demo's cars: the hidden truth behind every record of the demo.

One entry a record, by the record's short name. Lengths in mm, angles in degrees. A record says what
a member measured; here stands what a perfect measurement would have found.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class End:
    """One end of a car, as it truly is; what is left out is as the chassis sheet has it."""

    rim: tuple[float, float]
    """Width and diameter in inches."""
    offset: float
    section: float
    diameter: float
    shoulder: float = 28.0
    flange_inboard: float = 12.7
    flange_outboard: float = 12.7
    spacer: float = 0.0
    face_moved: float = 0.0
    camber: float | None = None
    """Standing, set at the top mount or the upper arm; None where nobody touched it."""
    at_knuckle: bool = False
    """Camber set at the knuckle bolts instead."""
    lowered: float = 0.0
    bump_gained: float = 0.0
    """At the hub, by what was trimmed (or, negative, packed) at the stop."""
    droop_gained: float = 0.0
    lips_gained: float = 0.0
    """Outboard, by rolling or pulling."""
    lips_cut: float = 0.0
    """Upward, by the saw."""
    toe_out_lock: float | None = None
    toe_in_lock: float | None = None
    axle_error: float = 0.0
    """Axle off centre, to the left positive."""
    left_section: float | None = None
    left_diameter: float | None = None
    left_spacer: float | None = None
    """Where the left differs."""
    reshaped: Mapping[str, float] = field(default_factory=dict)
    """Room gained at a site by hammer, bracket or knife."""


@dataclass(frozen=True)
class Truth:
    """A car with what is on it at both ends."""

    chassis: str
    car: str
    front: End
    rear: End


def _both(end: End) -> tuple[End, End]:
    return end, end


MERIDEL, HALLIN = "ostvane-meridel", "brevanor-hallin"
SARRIK, PELLINE = "quillane-sarrik", "dunmarrow-pelline"
ORSEY, TINDLE = "veltharn-orsey", "kessmoor-tindle"

TRUTHS: dict[str, Truth] = {
    "copperbill-first-try": Truth(
        MERIDEL, "copperbill-coupe",
        *_both(End((7, 15), 15.4, 214.0, 625.0)),
    ),
    "copperbill-lips-rolled": Truth(
        MERIDEL, "copperbill-coupe",
        End((7, 15), 22.0, 206.0, 613.0, lips_gained=8.0, camber=-0.8),
        End((7, 15), 22.0, 206.0, 613.0),
    ),
    "fernhollow-staggered": Truth(
        MERIDEL, "fernhollow-coupe",
        End((7, 15), 25.3, 212.0, 605.0, lowered=26.0, camber=-1.0, lips_gained=6.0),
        End((8, 15), 18.0, 232.0, 604.0, lowered=24.0, axle_error=-1.0, lips_gained=8.0),
    ),
    "old-lantern-five-a-side": Truth(
        MERIDEL, "old-lantern-coupe",
        End((6, 14), 24.0, 207.0, 600.0, spacer=5.0),
        End((6, 14), 24.0, 207.0, 600.0, face_moved=3.0),
    ),
    "marrowgate-deep-dish": Truth(
        MERIDEL, "marrowgate-coupe",
        End(
            (7.5, 15), 10.2, 213.0, 605.0, flange_outboard=9.0, lips_gained=16.0, camber=-0.5,
            reshaped={"pinch-weld": 8.0},
        ),
        End((7.5, 15), 10.2, 213.0, 605.0, flange_outboard=9.0),
    ),
    "tansy-quill-wide-rear": Truth(
        MERIDEL, "tansy-quill-coupe",
        End((7, 15), 25.0, 205.0, 614.0, camber=-0.6, lips_gained=7.0),
        End((7.5, 15), 22.5, 229.0, 605.0, lowered=12.0, axle_error=2.0),
    ),
    "bellwether-settles-it": Truth(
        MERIDEL, "bellwether-coupe",
        End((7, 15), 24.0, 206.0, 612.0, camber=-0.4),
        End((7.5, 15), 22.0, 231.0, 604.0, axle_error=1.0),
    ),
    "saltmarsh-other-axle": Truth(
        MERIDEL, "saltmarsh-coupe",
        End((7, 15), 20.0, 207.0, 613.0),
        End((7, 15), 20.0, 207.0, 613.0, face_moved=12.0),
    ),
    "ironmoth-sevens": Truth(
        HALLIN, "ironmoth-sedan",
        End((7, 15), 12.0, 231.0, 649.0, lips_gained=10.0),
        End((7, 15), 12.0, 231.0, 649.0, axle_error=5.0),
    ),
    "ironmoth-centred": Truth(
        HALLIN, "ironmoth-sedan",
        End((7, 15), 12.0, 229.0, 643.0, lips_gained=10.0),
        End((7, 15), 12.0, 229.0, 643.0, axle_error=0.5),
    ),
    "greyling-wagon": Truth(
        HALLIN, "greyling-wagon",
        End((7, 16), 15.0, 222.0, 642.0, camber=-0.4),
        End((7, 16), 5.0, 229.0, 650.0, lowered=-12.0, axle_error=-3.0, lips_gained=6.0),
    ),
    "quillfeather-half-inch": Truth(
        HALLIN, "quillfeather-sedan",
        End((6, 15), 15.0, 209.0, 646.0, spacer=4.76),
        End((6, 15), 15.0, 209.0, 646.0, spacer=12.7, axle_error=2.0),
    ),
    "dustwick-adapters": Truth(
        HALLIN, "dustwick-sedan",
        End((7, 16), 38.0, 213.0, 651.0, spacer=25.0, camber=-0.3),
        End((7, 16), 38.0, 213.0, 651.0, spacer=32.0, lowered=20.0, axle_error=-4.0),
    ),
    "parsley-road-narrow-tyre": Truth(
        HALLIN, "parsley-road-sedan",
        *_both(End((7, 15), 14.0, 219.0, 644.0)),
    ),
    "anvil-finch-stops": Truth(
        HALLIN, "anvil-finch-sedan",
        End(
            (7.5, 16), 12.0, 233.0, 654.0, shoulder=22.0, lips_gained=15.0, camber=-1.0,
            toe_out_lock=34.9, toe_in_lock=29.9, reshaped={"apron": 6.0},
        ),
        End((7.5, 16), 6.0, 233.0, 654.0, shoulder=22.0, axle_error=1.5),
    ),
    "windlestraw-sevens": Truth(
        SARRIK, "windlestraw-hatch",
        *_both(End((7, 15), 30.0, 216.0, 605.0)),
    ),
    "windlestraw-sixteens": Truth(
        SARRIK, "windlestraw-hatch",
        *_both(End((7, 16), 27.0, 212.0, 611.0)),
    ),
    "kittiwake-cone-nuts": Truth(
        SARRIK, "kittiwake-hatch",
        *_both(End((7, 15), 27.0, 205.0, 613.0)),
    ),
    "brackenhurst-bar": Truth(
        SARRIK, "brackenhurst-hatch",
        End((7, 15), 26.0, 221.0, 596.0, lowered=15.0, camber=-0.7),
        End((7, 15), 26.0, 221.0, 596.0, lowered=15.0),
    ),
    "peddler-rolled": Truth(
        SARRIK, "peddler-hatch",
        End((7, 16), 25.0, 213.0, 598.0, lips_gained=9.0, lowered=20.0, camber=-1.0),
        End((7.5, 16), 22.0, 216.0, 598.0, lips_gained=6.0, lowered=20.0),
    ),
    "long-acre-track": Truth(
        SARRIK, "long-acre-hatch",
        End(
            (8, 15), 22.0, 228.0, 582.0, shoulder=18.0, camber=-2.4, lowered=40.0,
            bump_gained=-11.8, lips_gained=10.0,
        ),
        End((8, 15), 22.0, 228.0, 582.0, shoulder=18.0, lowered=35.0, lips_gained=10.0),
    ),
    "oxlip-washers": Truth(
        SARRIK, "oxlip-hatch",
        End(
            (7, 15), 28.0, 217.0, 604.0, toe_out_lock=34.7, toe_in_lock=29.8, camber=-0.5,
            lips_gained=6.0,
        ),
        End((7, 15), 28.0, 217.0, 604.0),
    ),
    "ember-vale-eights": Truth(
        PELLINE, "ember-vale-sedan",
        End((8, 17), 42.0, 238.0, 641.0, camber=-0.8, reshaped={"sensor-wire": 6.0}),
        End((8, 17), 42.0, 238.0, 641.0, camber=-0.9),
    ),
    "ember-vale-staggered": Truth(
        PELLINE, "ember-vale-sedan",
        End(
            (8, 17), 42.0, 238.0, 638.0, camber=-0.8,
            reshaped={"sensor-wire": 6.0, "apron": 6.0},
        ),
        End((8.5, 17), 42.0, 256.0, 634.0, spacer=10.0, camber=-1.5, lips_gained=7.0),
    ),
    "hazelgrip-plain": Truth(
        PELLINE, "hazelgrip-sedan",
        *_both(End((7.5, 17), 40.0, 227.0, 633.0, camber=-0.6)),
    ),
    "nightjar-bolts": Truth(
        PELLINE, "nightjar-sedan",
        End((7, 16), 42.0, 228.0, 630.0, spacer=3.0, camber=-0.4),
        End((7, 16), 42.0, 228.0, 630.0, spacer=5.0, camber=-0.8),
    ),
    "foxglove-lane-trimmed-stop": Truth(
        PELLINE, "foxglove-lane-sedan",
        End(
            (8, 17), 35.0, 241.0, 642.0, lowered=30.0, camber=-1.3, lips_gained=14.0,
            bump_gained=8.2, reshaped={"liner-front": 8.0},
        ),
        End((8, 17), 35.0, 241.0, 642.0, lowered=25.0, camber=-1.6, bump_gained=0.0),
    ),
    "cinderford-wagon": Truth(
        PELLINE, "cinderford-wagon",
        End((7.5, 16), 40.0, 234.0, 629.0, camber=-0.5),
        End((7.5, 16), 40.0, 234.0, 629.0, camber=-0.7, bump_gained=-16.3),
    ),
    "tollgate-in-question": Truth(
        PELLINE, "tollgate-sedan",
        *_both(End((8, 17), 38.0, 230.0, 632.0, camber=-0.9, lowered=15.0)),
    ),
    "thornapple-other-circle": Truth(
        ORSEY, "thornapple-coupe",
        End((7, 16), 40.0, 218.0, 630.0, camber=-0.5),
        End((7.5, 16), 38.0, 236.0, 629.0, camber=-0.8),
    ),
    "saffron-gate-seventeens": Truth(
        ORSEY, "saffron-gate-coupe",
        End((7.5, 17), 42.0, 217.0, 624.0, camber=-0.9, lowered=12.0),
        End((8.5, 17), 40.0, 249.0, 627.0, camber=-1.3, lowered=12.0),
    ),
    "lowmere-taller": Truth(
        ORSEY, "lowmere-coupe",
        End((7, 16), 40.0, 227.0, 650.0, camber=-0.6),
        End((7.5, 16), 38.0, 240.0, 652.0, camber=-0.9),
    ),
    "vesper-hill-square": Truth(
        ORSEY, "vesper-hill-coupe",
        End((8, 17), 38.0, 237.0, 620.0, camber=-1.4, lips_gained=8.0),
        End((8, 17), 38.0, 237.0, 620.0, camber=-1.5),
    ),
    "mallow-nines-behind": Truth(
        ORSEY, "mallow-coupe",
        End((8, 17), 44.0, 228.0, 632.0, spacer=5.0, left_spacer=3.0, camber=-1.2),
        End((9, 17), 42.0, 262.0, 635.0, spacer=8.0, camber=-1.6, lips_gained=9.0),
    ),
    "pennywort-sixes": Truth(
        TINDLE, "pennywort-hatch",
        *_both(End((6, 14), 36.0, 194.0, 577.0)),
    ),
    "gantry-fifteens": Truth(
        TINDLE, "gantry-hatch",
        End((6.5, 15), 37.0, 198.0, 574.0, camber=-0.5, lowered=20.0),
        End((6.5, 15), 37.0, 198.0, 574.0, lowered=20.0),
    ),
    "hob-end-sevens": Truth(
        TINDLE, "hob-end-hatch",
        End((7, 15), 32.0, 203.0, 573.0, camber=-1.2, at_knuckle=True, lips_gained=7.0),
        End((7, 15), 32.0, 203.0, 573.0, lips_gained=10.0),
    ),
    "sedge-bank-winter": Truth(
        TINDLE, "sedge-bank-hatch",
        *_both(End((5.5, 14), 38.0, 178.0, 582.0)),
    ),
    "dovecote-odd-pair": Truth(
        TINDLE, "dovecote-hatch",
        End(
            (6, 15), 40.0, 192.0, 582.0, spacer=5.0, left_section=197.0, left_diameter=578.0
        ),
        End((6, 15), 40.0, 192.0, 582.0, spacer=5.0),
    ),
    "wrenfield-as-it-left": Truth(
        MERIDEL, "wrenfield-coupe",
        End((6, 14), 24.0, 200.0, 608.0),
        End((6, 14), 24.0, 200.0, 608.0, face_moved=3.0, axle_error=-1.0),
    ),
    "hollybank-no-stops": Truth(
        MERIDEL, "hollybank-coupe",
        End((7, 15), 25.0, 211.0, 606.0, camber=-0.3),
        End((7, 15), 25.0, 211.0, 606.0, lowered=30.0, axle_error=2.0),
    ),
    "tamarisk-rod-set": Truth(
        MERIDEL, "tamarisk-coupe",
        End((7, 15), 23.0, 204.0, 612.0, camber=-1.0, lowered=35.0, lips_gained=5.0),
        End((7, 15), 23.0, 204.0, 612.0, lowered=40.0, axle_error=0.5),
    ),
    "sorrelgate-taller-narrower": Truth(
        HALLIN, "sorrelgate-sedan",
        End((6, 15), 15.0, 214.0, 639.0),
        End((6, 15), 15.0, 214.0, 639.0, axle_error=-2.0),
    ),
    "pinfold-cut-lips": Truth(
        HALLIN, "pinfold-sedan",
        End((7.5, 16), 8.0, 231.0, 652.0, camber=-0.8, lips_cut=14.0),
        End((7.5, 16), 4.0, 231.0, 652.0, lips_cut=12.0, axle_error=3.0),
    ),
    "otterlode-stamped-twelve": Truth(
        HALLIN, "otterlode-wagon",
        End((7, 15), 9.0, 219.0, 638.0, camber=-0.2),
        End((7, 15), 9.0, 219.0, 638.0, lowered=-10.0, axle_error=1.0),
    ),
    "quickset-from-new": Truth(
        SARRIK, "quickset-hatch",
        End((6, 15), 30.0, 201.0, 614.0, camber=-0.2),
        End((6, 15), 30.0, 201.0, 614.0),
    ),
    "cobblestone-tall-and-narrow": Truth(
        MERIDEL, "cobblestone-coupe",
        End((7, 15), 20.0, 209.0, 607.0),
        End((7, 15), 20.0, 209.0, 607.0),
    ),
    "fen-lantern-five": Truth(
        SARRIK, "fen-lantern-hatch",
        End((7, 15), 30.0, 214.0, 605.0, spacer=5.0, camber=-0.4),
        End((7, 15), 30.0, 214.0, 605.0),
    ),
    "barleymow-photograph": Truth(
        SARRIK, "barleymow-hatch",
        End((7.5, 16), 27.0, 214.0, 598.0, camber=-0.5),
        End((7.5, 16), 27.0, 214.0, 598.0),
    ),
    "larkstep-from-the-book": Truth(
        PELLINE, "larkstep-sedan",
        End((7, 16), 42.0, 225.0, 642.0, camber=-0.3),
        End((7, 16), 42.0, 225.0, 642.0, camber=-0.6),
    ),
    "millrace-went-back": Truth(
        PELLINE, "millrace-sedan",
        End((8, 17), 42.0, 231.0, 634.0, camber=-0.6),
        End((8.5, 17), 47.0, 249.0, 629.0, camber=-0.8),
    ),
    "stonechat-both-ends-loaded": Truth(
        PELLINE, "stonechat-wagon",
        End((7.5, 17), 40.0, 226.0, 634.0, camber=-0.5),
        End((7.5, 17), 40.0, 226.0, 634.0, camber=-0.9, bump_gained=-16.3),
    ),
    "juniper-yard-plus-nothing": Truth(
        ORSEY, "juniper-yard-coupe",
        End((7.5, 16), 40.0, 222.0, 631.0, camber=-0.7),
        End((8, 16), 38.0, 242.0, 630.0, camber=-0.9),
    ),
    "tarn-low-and-stock": Truth(
        ORSEY, "tarn-coupe",
        End((7, 16), 40.0, 218.0, 630.0, camber=-1.1, lowered=25.0),
        End((7.5, 16), 38.0, 237.0, 630.0, camber=-1.4, lowered=22.0),
    ),
    "applegarth-forty-five": Truth(
        ORSEY, "applegarth-coupe",
        End((7.5, 17), 45.0, 216.0, 624.0, camber=-0.8),
        End((8.5, 17), 45.0, 247.0, 627.0, camber=-1.2),
    ),
    "rushlight-plain-fourteens": Truth(
        TINDLE, "rushlight-hatch",
        End((5.5, 14), 38.0, 188.0, 577.0, camber=-0.2),
        End((5.5, 14), 38.0, 188.0, 577.0),
    ),
    "hollin-quiet-fifteens": Truth(
        TINDLE, "hollin-hatch",
        End((6, 15), 38.0, 190.0, 583.0, camber=-0.4),
        End((6, 15), 38.0, 190.0, 583.0),
    ),
    "cuckoo-pen-twenties": Truth(
        TINDLE, "cuckoo-pen-hatch",
        End((5.5, 14), 38.0, 197.0, 590.0),
        End((5.5, 14), 38.0, 197.0, 590.0),
    ),
    "bramble-end-too-far-out": Truth(
        TINDLE, "bramble-end-hatch",
        End((7, 15), 25.0, 202.0, 575.0, camber=-0.6),
        End((7, 15), 25.0, 202.0, 575.0),
    ),
    "wick-lane-studs": Truth(
        HALLIN, "wick-lane-sedan",
        End((7, 15), 10.0, 228.0, 645.0, camber=-0.5, lips_gained=7.0),
        End((7, 15), 10.0, 228.0, 645.0, axle_error=-0.5),
    ),
}  # fmt: skip
