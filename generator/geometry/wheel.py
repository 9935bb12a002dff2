"""Where wheel and tyre stand from the hub's mounting face.

Axis: u along the spin axis, from the hub's mounting face, outboard positive.

    inboard lip            mounting face (u = 0, no spacer)           outboard lip
    |<------ backspacing B ------>|<-------- front spacing F -------->|
    |t_i|<---------------- rim width W ---------------->|t_o|
                                  centre plane at W/2

Offset is positive when the mounting face lies outboard of the centre plane (inset).
Everything given about a wheel is taken as an independent observation; each result keeps how it
depends on every one of them, so that a flange that enters twice is not counted as two.
"""

from math import fsum, sqrt
from typing import TypeAlias

from generator.frozen import dataclass
from generator.quantities.estimate import Basis, Estimate, weakest
from generator.quantities.units import Mm, Mm2, Ratio

FLANGE_THICKNESS: Mm = 12.7
"""Lip outside the bead seat where nobody measured: half an inch [PRACTICE]."""
FLANGE_THICKNESS_U: Mm = 3.0
"""Spread of real lips about half an inch, one standard deviation [PRACTICE]."""
ASSUMED_FLANGE = Estimate(
    FLANGE_THICKNESS, FLANGE_THICKNESS_U, Basis.ASSUMED, ("common practice: half-inch lip",)
)

MATERIAL_SHARE: Ratio = 0.1
"""An input with less of a result's variance than this does not decide what the result rests on."""
_EXACT_ZERO = Estimate(0.0, 0.0, Basis.MEASURED)


@dataclass(frozen=True)
class WheelDimensions:
    """What is known of a wheel; width between bead seats and at least offset or backspacing.

    Raises ValueError if both offset and backspacing are missing, or a length that must be positive
    is not.
    """

    width: Estimate
    offset: Estimate | None = None
    backspacing: Estimate | None = None
    overall_width: Estimate | None = None
    flange_inboard: Estimate | None = None
    flange_outboard: Estimate | None = None

    def __post_init__(self) -> None:
        if self.offset is None and self.backspacing is None:
            raise ValueError("a wheel's position needs its offset or its backspacing")
        lengths = (self.width, self.overall_width, self.flange_inboard, self.flange_outboard)
        if any(length is not None and length.value <= 0.0 for length in lengths):
            raise ValueError("width, overall width and flange thickness are above zero")


@dataclass(frozen=True)
class PositionWeights:
    """How a result changes per mm of what places the wheel: derivatives, pure numbers."""

    centre_plane: Ratio = 0.0
    width: Ratio = 0.0
    flange_inboard: Ratio = 0.0
    flange_outboard: Ratio = 0.0

    def as_tuple(self) -> tuple[Ratio, Ratio, Ratio, Ratio]:
        """Give the weights in the order of a position's covariance."""
        return (self.centre_plane, self.width, self.flange_inboard, self.flange_outboard)


@dataclass(frozen=True)
class WheelPosition:
    """A wheel on its hub: u from the mounting face, outboard positive.

    `offset`, `backspacing` and `front_spacing` are the wheel's own; `effective_offset`,
    `centre_plane`, `inboard_lip` and `outboard_lip` have the spacer in them. `closure` is
    B − (W/2 + t + ET) where both offset and backspacing were given: near zero within its u when
    they agree. `covariance` is that of (centre plane, width, inboard flange, outboard flange).
    """

    width: Estimate
    flange_inboard: Estimate
    flange_outboard: Estimate
    overall_width: Estimate
    offset: Estimate
    backspacing: Estimate
    front_spacing: Estimate
    effective_offset: Estimate
    centre_plane: Estimate
    inboard_lip: Estimate
    outboard_lip: Estimate
    closure: Estimate | None
    width_closure: Estimate | None
    covariance: tuple[tuple[Mm2, ...], ...]

    def uncertainty(self, weights: PositionWeights) -> Mm:
        """Give the standard uncertainty of a result with these derivatives, correlations kept.

        Source: [GUM] 5.2.2, law of propagation with covariances.
        """
        w = weights.as_tuple()
        total = fsum(
            a * b * cell
            for a, row in zip(w, self.covariance, strict=True)
            for b, cell in zip(w, row, strict=True)
        )
        return sqrt(max(total, 0.0))


@dataclass(frozen=True)
class TyreFaces:
    """The tyre's side planes: u from the mounting face, outboard positive."""

    inboard: Estimate
    outboard: Estimate
    centre_plane: Estimate
    section_width: Estimate


@dataclass(frozen=True)
class PositionChange:
    """What a change moves: inner positive further inboard, outer positive further outboard."""

    inner: Estimate
    outer: Estimate
    track: Estimate


_Weights: TypeAlias = tuple[float, ...]


@dataclass(frozen=True)
class _Sum:
    """A weighted sum of independent inputs, exact in its dependence on each of them."""

    inputs: tuple[Estimate, ...]
    weights: _Weights

    def add(self, other: "_Sum", by: float = 1.0) -> "_Sum":
        pairs = zip(self.weights, other.weights, strict=True)
        return _Sum(self.inputs, tuple(a + by * b for a, b in pairs))

    def covariance(self, other: "_Sum") -> float:
        return fsum(
            a * b * given.u * given.u
            for a, b, given in zip(self.weights, other.weights, self.inputs, strict=True)
        )

    def value(self) -> float:
        return fsum(w * given.value for w, given in zip(self.weights, self.inputs, strict=True))

    def estimate(self) -> Estimate:
        variance = self.covariance(self)
        used = [(w, x) for w, x in zip(self.weights, self.inputs, strict=True) if abs(w) > 1e-12]
        deciding = [x for w, x in used if (w * x.u) ** 2 >= MATERIAL_SHARE * variance]
        sources = dict.fromkeys(source for _, x in used for source in x.sources)
        basis = weakest(*(x.basis for x in deciding)) if deciding else Basis.PUBLISHED
        return Estimate(self.value(), sqrt(variance), basis, tuple(sources))


def _conditioned(sums: dict[str, _Sum], predicted: _Sum, observed: _Sum) -> _Sum:
    """Bring an observation into all sums by least variance; give observed − predicted.

    With one prediction and one independent observation of the same length this is the
    inverse-variance weighted mean.
    """
    closure = observed.add(predicted, -1.0)
    variance = closure.covariance(closure)
    if variance > 0.0:
        gains = {name: -x.covariance(closure) / variance for name, x in sums.items()}
        for name, gain in gains.items():
            sums[name] = sums[name].add(closure, gain)
    return closure


def wheel_position(wheel: WheelDimensions, spacer: Estimate) -> WheelPosition:
    """Place a wheel on its hub from what is known of it.

    Model: B = W/2 + t_i + ET, F = W/2 + t_o − ET, overall width = W + t_i + t_o, all inputs
    independent; what is given twice is combined by inverse variance. A flange nobody measured is
    12.7 ± 3 mm. A large closure is for the caller to judge: the combination does not reject.
    wheel: see WheelDimensions. spacer: thickness of all spacers together, >= 0.
    Raises ValueError if spacer < 0.
    Source: [UNR124] 2.6 for the inset; sums: own derivation: lengths along one axis;
    combination: least variance of linear observations, [GUM] 5.2.2.
    >>> inch = Estimate(177.8, 0.0, Basis.STAMPED)
    >>> wheel = WheelDimensions(inch, offset=Estimate(45.0, 1.0, Basis.STAMPED))
    >>> p = wheel_position(wheel, Estimate(0.0, 0.0, Basis.MEASURED))
    >>> round(p.backspacing.value, 1), round(p.backspacing.u, 2)
    (146.6, 3.16)
    """
    if spacer.value < 0.0:
        raise ValueError(f"a spacer is zero or thicker, got {spacer.value} mm")
    names = ("width", "flange_inboard", "flange_outboard", "offset", "spacer", "overall", "back")
    given = (
        wheel.width,
        wheel.flange_inboard or ASSUMED_FLANGE,
        wheel.flange_outboard or ASSUMED_FLANGE,
        wheel.offset or _EXACT_ZERO,
        spacer,
        wheel.overall_width or _EXACT_ZERO,
        wheel.backspacing or _EXACT_ZERO,
    )
    base = {
        name: _Sum(given, tuple(1.0 if i == k else 0.0 for i in range(len(names))))
        for k, name in enumerate(names)
    }
    sums = {name: base[name] for name in names[:4]}
    width_closure = closure = None
    if wheel.overall_width is not None:
        width_closure = _conditioned(sums, _overall(sums), base["overall"])
    if wheel.offset is None:
        sums["offset"] = base["back"].add(sums["width"], -0.5).add(sums["flange_inboard"], -1.0)
    elif wheel.backspacing is not None:
        closure = _conditioned(sums, _back(sums), base["back"])
    return _position(sums, base["spacer"], closure, width_closure)


def _overall(sums: dict[str, _Sum]) -> _Sum:
    return sums["width"].add(sums["flange_inboard"]).add(sums["flange_outboard"])


def _back(sums: dict[str, _Sum]) -> _Sum:
    return sums["offset"].add(sums["flange_inboard"]).add(sums["width"], 0.5)


def _position(
    sums: dict[str, _Sum], spacer: _Sum, closure: _Sum | None, width_closure: _Sum | None
) -> WheelPosition:
    overall, back = _overall(sums), _back(sums)
    front = overall.add(back, -1.0)
    effective = sums["offset"].add(spacer, -1.0)
    centre = spacer.add(sums["offset"], -1.0)
    placing = (centre, sums["width"], sums["flange_inboard"], sums["flange_outboard"])
    return WheelPosition(
        width=sums["width"].estimate(),
        flange_inboard=sums["flange_inboard"].estimate(),
        flange_outboard=sums["flange_outboard"].estimate(),
        overall_width=overall.estimate(),
        offset=sums["offset"].estimate(),
        backspacing=back.estimate(),
        front_spacing=front.estimate(),
        effective_offset=effective.estimate(),
        centre_plane=centre.estimate(),
        inboard_lip=spacer.add(back, -1.0).estimate(),
        outboard_lip=spacer.add(front).estimate(),
        closure=closure.estimate() if closure else None,
        width_closure=width_closure.estimate() if width_closure else None,
        covariance=tuple(tuple(a.covariance(b) for b in placing) for a in placing),
    )


def tyre_faces(position: WheelPosition, section_width: Estimate) -> TyreFaces:
    """Give the tyre's side planes about the wheel's centre plane.

    Model: the tyre sits symmetric on its rim; section width and wheel position are independent.
    section_width: on this rim, > 0.
    Raises ValueError if section_width is not above zero.
    Source: own derivation: u = s − ET ± S/2.
    >>> wheel = WheelDimensions(
    ...     Estimate(165.1, 0.0, Basis.STAMPED), offset=Estimate(40.0, 0.0, Basis.STAMPED)
    ... )
    >>> p = wheel_position(wheel, Estimate(5.0, 0.0, Basis.MEASURED))
    >>> faces = tyre_faces(p, Estimate(214.0, 6.0, Basis.PUBLISHED))
    >>> faces.inboard.value, faces.outboard.value, faces.outboard.u
    (-142.0, 72.0, 3.0)
    """
    if section_width.value <= 0.0:
        raise ValueError(f"section width is above zero, got {section_width.value} mm")
    half = section_width.scaled(0.5)
    centre = position.centre_plane
    return TyreFaces(centre.minus(half), centre.plus(half), centre, section_width)


def position_change(
    new: TyreFaces, old: TyreFaces, *, hub_face_moved: Estimate = _EXACT_ZERO
) -> PositionChange:
    """Give how far the tyre's two sides and the axle's track move between two set-ups.

    Model: inner = ΔS/2 + ΔET_eff, outer = ΔS/2 − ΔET_eff, track = −2 ΔET_eff with both sides of
    the axle alike; the two set-ups are independent, which overstates u for one tyre on two wheels.
    hub_face_moved: shift of the mounting face itself (other hub, disc hat, drum), outboard
    positive.
    Source: own derivation: differences of u = s − ET ± S/2; two wheels to an axle.
    >>> exact = lambda mm: Estimate(mm, 0.0, Basis.MEASURED)
    >>> def faces(inches, offset, section):
    ...     wheel = WheelDimensions(exact(inches * 25.4), offset=exact(offset))
    ...     return tyre_faces(wheel_position(wheel, exact(0.0)), exact(section))
    >>> change = position_change(faces(8, 20.0, 243.0), faces(6, 24.0, 201.0))
    >>> change.inner.value, change.outer.value, change.track.value
    (17.0, 25.0, 8.0)
    """
    outboard = new.centre_plane.minus(old.centre_plane).plus(hub_face_moved)
    wider = new.section_width.minus(old.section_width).scaled(0.5)
    return PositionChange(wider.minus(outboard), wider.plus(outboard), outboard.scaled(2.0))
