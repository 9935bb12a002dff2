"""What stands on the studs: engagement, nuts that bottom, wheel bolts, sockets, spacers.

Lengths run outboard from the hub's mounting face, those of wheel bolts inboard from it.
"""

from math import cos, pi

from generator.frozen import dataclass
from generator.geometry.bound import PRACTICE, Check, at_least, at_most
from generator.quantities.estimate import Estimate
from generator.quantities.units import Mm, Newton, Ratio, Turns

_ENGAGEMENT_IN_DIAMETERS = 1.0  # common practice
SEAT_TO_BOTTOM_TURNS = 2.0  # common practice: turns left in a closed nut once it is seated
_SOCKET_PLAY = 1.0  # mm in diameter, common practice


@dataclass(frozen=True)
class Stack:
    """What stands on a stud: its protrusion past the hub face, spacer, wheel pad at the seat."""

    protrusion: Estimate
    spacer: Estimate
    pad: Estimate

    def past_seat(self) -> Estimate:
        """Give the stud left past the seat for the nut; negative: the stud ends inside."""
        return self.protrusion.minus(self.spacer).minus(self.pad)


def engagement_from_stack(stack: Stack, nut_thread: Estimate) -> Estimate:
    """Engaged length: what the stud offers past the seat, but no more than the nut's thread.

    Model: the smaller governs and brings its own u, and with u so near each other that either may
    govern, the larger u. A stud that ends inside the wheel engages nothing.
    nut_thread: >= 0, the threaded length of the nut.
    Source: own derivation: stack of lengths along one stud.
    By hand: 45 − 5 − 18 = 22 past the seat, nut 16: 16 engaged.
    >>> from generator.quantities.estimate import Basis
    >>> mm = lambda value: Estimate(value, 0.5, Basis.MEASURED)
    >>> engagement_from_stack(Stack(mm(45.0), mm(5.0), mm(18.0)), mm(16.0)).value
    16.0
    """
    offered = stack.past_seat()
    governing, other = sorted((offered, nut_thread), key=lambda length: length.value)
    apart = other.minus(governing)
    u = governing.u if apart.value >= 2.0 * apart.u else max(governing.u, other.u)
    return Estimate(max(0.0, governing.value), u, apart.basis, apart.sources)


def engagement_check(
    engagement: Estimate, diameter: Mm, *, in_diameters: Ratio = _ENGAGEMENT_IN_DIAMETERS
) -> Check:
    """Engagement in nominal diameters, held against what is wanted.

    diameter: > 0. in_diameters: > 0; 1 for steel in steel; aluminium wants more.
    Source: [PRACTICE] one nominal diameter.
    By hand: 9.75/12 = 0.8125, short of 1 by 0.1875.
    >>> from generator.quantities.estimate import Basis
    >>> engagement_check(Estimate(9.75, 0.0, Basis.MEASURED), 12.0).value
    0.8125
    """
    return at_least(engagement.scaled(1.0 / diameter), in_diameters, source=PRACTICE)


def stripping_check(strip: Newton, stud_tensile: Newton) -> Check:
    """Force that strips the threads, held against the load that breaks the stud.

    Model: a joint should fail, if it must, by the stud breaking where it is seen.
    Source: [FEDSTDH28] section 2B.
    >>> stripping_check(118976.0, 91655.2).margin > 0.0
    True
    """
    return at_least(strip, stud_tensile, source="FEDSTDH28")


def bottoming_by_turns(to_bottom: Turns, to_seat: Turns) -> Check:
    """Count of turns a closed nut runs on the bare stud, held against its seat's plus two.

    Both counted by hand from first catch on the same nut and stud.
    Source: [PRACTICE] two turns in hand.
    >>> bottoming_by_turns(11.0, 8.5).margin
    0.5
    """
    return at_least(to_bottom, to_seat + SEAT_TO_BOTTOM_TURNS, source=PRACTICE)


def bottoming_by_depth(stack: Stack, nut_depth: Estimate, *, pitch: Mm) -> Check:
    """Depth left in a closed nut past the stud's end, held against two turns of thread.

    nut_depth: from the nut's seat plane to the blind end, >= 0. pitch: > 0.
    Source: [PRACTICE] two turns in hand; own derivation: stack of lengths.
    By hand: depth 24, stud 22 past the seat: 2 left, 3 wanted at pitch 1.5.
    >>> from generator.quantities.estimate import Basis
    >>> mm = lambda value: Estimate(value, 0.0, Basis.MEASURED)
    >>> bottoming_by_depth(Stack(mm(45.0), mm(5.0), mm(18.0)), mm(24.0), pitch=1.5).margin
    -1.0
    """
    left = nut_depth.minus(stack.past_seat())
    return at_least(left, SEAT_TO_BOTTOM_TURNS * pitch, source=PRACTICE)


def threads_showing(stack: Stack, nut_height: Estimate, *, pitch: Mm) -> Estimate:
    """Threads of the stud to be seen past an open nut; negative where the nut is not filled.

    nut_height: from the seat plane to the nut's outer end. pitch: > 0.
    Source: own derivation: stack of lengths.
    By hand: (45 − 5 − 18 − 19)/1.5 = 2.
    >>> from generator.quantities.estimate import Basis
    >>> mm = lambda value: Estimate(value, 0.0, Basis.MEASURED)
    >>> threads_showing(Stack(mm(45.0), mm(5.0), mm(18.0)), mm(19.0), pitch=1.5).value
    2.0
    """
    return stack.past_seat().minus(nut_height).scaled(1.0 / pitch)


def bolt_reach(length_under_seat: Estimate, *, spacer: Estimate, pad: Estimate) -> Estimate:
    """Depth a wheel bolt goes into the hub past its face.

    length_under_seat: from the seat to the bolt's end. A bolt longer by the spacer keeps its reach.
    Source: own derivation: stack of lengths.
    By hand: 50 − 10 − 15 = 25.
    >>> from generator.quantities.estimate import Basis
    >>> mm = lambda value: Estimate(value, 0.5, Basis.MEASURED)
    >>> bolt_reach(mm(50.0), spacer=mm(10.0), pad=mm(15.0)).value
    25.0
    """
    return length_under_seat.minus(spacer).minus(pad)


def bolt_depth_check(reach: Estimate, free_depth: Mm) -> Check:
    """Reach of a wheel bolt, held against the free depth behind the hub's face.

    free_depth: hub face to the first thing a longer bolt would meet, > 0; look behind all round.
    Source: [PRACTICE] a bolt must not reach ring, shoe or knuckle.
    >>> from generator.quantities.estimate import Basis
    >>> bolt_depth_check(Estimate(25.0, 0.5, Basis.MEASURED), 26.0).outcome.value
    'holds'
    """
    return at_most(reach, free_depth, source=PRACTICE)


def across_corners(across_flats: Mm) -> Mm:
    """Corner to corner size of a sharp hexagon.

    Model: corners not rounded, so a real nut is a little smaller. across_flats: > 0.
    Source: own derivation: across flats over cos 30°.
    >>> round(across_corners(19.0), 2)
    21.94
    """
    return across_flats / cos(pi / 6.0)


def socket_check(pocket: Estimate, across_flats: Mm, *, socket_wall: Mm) -> Check:
    """Pocket diameter less the nut's corners, held against a socket's two walls and play.

    socket_wall: > 0; 2.0 to 2.5 for a thin socket.
    Source: [PRACTICE] twice the wall and 1 mm.
    By hand: 28 − 21.94 = 6.06, wanted 2·2.5 + 1 = 6.
    >>> from generator.quantities.estimate import Basis
    >>> round(socket_check(Estimate(28.0, 0.0, Basis.MEASURED), 19.0, socket_wall=2.5).margin, 2)
    0.06
    """
    free = pocket.shifted(-across_corners(across_flats))
    return at_least(free, 2.0 * socket_wall + _SOCKET_PLAY, source=PRACTICE)


@dataclass(frozen=True)
class ThicknessBand:
    """The thicknesses in which a kind of spacer is made: least and greatest."""

    least: Mm
    greatest: Mm


def spacer_band_checks(spacer: Estimate, band: ThicknessBand) -> tuple[Check, Check]:
    """Thickness of a spacer, held against the least and the greatest of its kind.

    Source: [PRACTICE] kinds of spacer by thickness.
    >>> from generator.quantities.estimate import Basis
    >>> thin, thick = spacer_band_checks(Estimate(7, 0.0, Basis.MEASURED), ThicknessBand(8.0, 20.0))
    >>> thin.margin, thick.margin
    (-1.0, 13.0)
    """
    return (
        at_least(spacer, band.least, source=PRACTICE),
        at_most(spacer, band.greatest, source=PRACTICE),
    )


def bolt_on_spacer_checks(
    spacer: Estimate, protrusion: Mm, *, wheel_pocket: Mm, nut_height: Mm
) -> tuple[Check, Check]:
    """Thickness of a bolt-on spacer, held against the stock stud's end and the inner nut.

    Model: the stud past the hub face must end inside the spacer or in a pocket of the wheel's pad;
    the nut of the first joint must end inside the spacer. All >= 0, wheel_pocket 0 for a plain pad.
    nut_height: from the hub's face to the outer end of the seated inner nut.
    Source: [PRACTICE] least thickness of a bolt-on spacer.
    By hand: stud 38, pocket 12: at least 26; nut ends at 22.
    >>> from generator.quantities.estimate import Basis
    >>> spacer = Estimate(25.0, 0.0, Basis.MEASURED)
    >>> stud, nut = bolt_on_spacer_checks(spacer, 38.0, wheel_pocket=12.0, nut_height=22.0)
    >>> stud.margin, nut.margin
    (-1.0, 3.0)
    """
    return (
        at_least(spacer, protrusion - wheel_pocket, source=PRACTICE),
        at_least(spacer, nut_height, source=PRACTICE),
    )
