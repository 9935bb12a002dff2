"""What the published tables give: one frozen value for each kind of row, and where it is from."""

from enum import Enum

from generator.frozen import dataclass
from generator.quantities.units import (
    Bar,
    Inch,
    KmPerHour,
    Mm,
    Mpa,
    Newton,
    NewtonMetre,
    Ratio,
)


class Mark(Enum):
    """How a table is known."""

    TEXT = "read in public text"
    MEMORY = "from memory"
    PRACTICE = "common practice"


class Known(Enum):
    """How a source is known."""

    READ = "read"
    SECOND_HAND = "second hand"
    MEMORY = "from memory"
    PRACTICE = "common practice"
    PROOF = "own derivation"


@dataclass(frozen=True)
class Source:
    """A document that numbers and formulas are taken from; `edition` may be empty."""

    key: str
    body: str
    title: str
    edition: str
    clauses: str
    known: Known
    note: str


@dataclass(frozen=True)
class PublishedTable:
    """A table without its rows: what it is, from which place of which source, how it is known."""

    name: str
    title: str
    source: str
    clause: str
    mark: Mark
    units: tuple[tuple[str, str], ...]
    note: str

    @property
    def citation(self) -> str:
        """The key of the source and the clause, as docstrings and pages cite them."""
        return f"[{self.source}] {self.clause}"


@dataclass(frozen=True)
class FullProfileSize:
    """A size looked up because its designation has no aspect ratio; `rim` is the measuring rim."""

    rim: Inch
    diameter: Mm
    section_width: Mm


@dataclass(frozen=True)
class FlotationSize:
    """A high-flotation size; a deep tread stands higher on the same carcass."""

    rim: Inch
    diameter: Mm
    diameter_deep_tread: Mm
    section_width: Mm


@dataclass(frozen=True)
class RimRange:
    """Approved rim widths of a size, and the one it is measured on."""

    least: Inch
    measuring: Inch
    most: Inch


@dataclass(frozen=True)
class SizeTolerance:
    """Shares of the design section height and of the design width that a new tyre may have."""

    section_height_least: Ratio
    section_height_greatest: Ratio
    width_greatest: Ratio


@dataclass(frozen=True)
class LoadPressureLaw:
    """Load goes with a power of pressure; `exponent_marked` is for indices with an asterisk."""

    exponent: Ratio
    exponent_marked: Ratio
    reference_standard: Bar
    reference_extra: Bar


@dataclass(frozen=True)
class SpeedometerLaw:
    """Indicated minus true speed is at least nothing, at most share times true plus constant."""

    share: Ratio
    constant: KmPerHour


@dataclass(frozen=True)
class LargestBrake:
    """Outer diameter of the disc and inner diameter of the drum that fit a rim code."""

    disc: Mm
    drum: Mm


@dataclass(frozen=True)
class RunOut:
    """Service limits of one maker; a limit that is not given is None."""

    what: str
    radial: Mm
    lateral: Mm | None


@dataclass(frozen=True)
class RunOutWarning:
    """Radial run-out above which a wheel, or tyre and wheel, call for a warning."""

    wheel: Mm
    assembly: Mm


@dataclass(frozen=True)
class PropertyClass:
    """Strength of a bolt or stud."""

    proof_stress: Mpa
    tensile_strength: Mpa
    yield_strength: Mpa


@dataclass(frozen=True)
class StrippingLimits:
    """Limits of size that govern stripping: least ones of the stud, greatest ones of the nut."""

    stud_major_least: Mm
    stud_pitch_least: Mm
    nut_pitch_greatest: Mm
    nut_minor_greatest: Mm


@dataclass(frozen=True)
class TorqueFactor:
    """K of T = K d F, with the range it is found in."""

    value: Ratio
    least: Ratio
    greatest: Ratio


@dataclass(frozen=True)
class TorqueBand:
    """Usual torque of a wheel fastener; the vehicle maker's figure wins."""

    typical: NewtonMetre
    least: NewtonMetre
    greatest: NewtonMetre


@dataclass(frozen=True)
class Engagement:
    """Length of engagement over diameter: wanted, and the least to be driven on."""

    wanted: Ratio
    least: Ratio


@dataclass(frozen=True)
class SeatStrength:
    """Forces and torque of the seat strength test."""

    set_load: Newton
    final_load: Newton
    torque: NewtonMetre


@dataclass(frozen=True)
class RotaryFatigue:
    """Factors of the rotary fatigue moment of one material, by axle."""

    friction: Ratio
    front: Ratio
    rear: Ratio
    cycles: int


@dataclass(frozen=True)
class BendingTest:
    """Factor and friction of the rotating bending moment."""

    factor: Ratio
    friction: Ratio


@dataclass(frozen=True)
class TyreAge:
    """Ages in years that call for a note and for a warning."""

    note: int
    warning: int


@dataclass(frozen=True)
class IdentificationLength:
    """Symbols of a tyre identification number, the date code included."""

    new: int
    retread: int
    earlier: tuple[int, ...]
