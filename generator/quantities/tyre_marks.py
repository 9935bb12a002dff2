"""A tyre as designated: the typed values of a size, its service description and its marks."""

from dataclasses import field
from enum import Enum

from generator.frozen import dataclass
from generator.quantities.units import Inch, Mm, Percent


class TyreForm(Enum):
    """How the size is written, which decides where its dimensions come from."""

    METRIC = "metric"
    FULL_PROFILE = "full profile"
    METRIC_RIM = "metric rim"
    CONFIGURATION_A = "configuration A"
    FLOTATION = "flotation"
    NUMERIC = "numeric"
    ALPHA_NUMERIC = "alpha-numeric"


class Construction(Enum):
    """The lie of the cords, with its letter; a hyphen in a size means diagonal too."""

    RADIAL = "R"
    DIAGONAL = "D"
    BIAS_BELTED = "B"


class Prefix(Enum):
    """Letters before the size."""

    P = "P"
    LT = "LT"
    HL = "HL"
    T = "T"
    S = "S"
    ST = "ST"


class Suffix(Enum):
    """Letters after the rim code."""

    C = "C"
    LT = "LT"


class LoadVersion(Enum):
    """The load identification where one is written; nothing written is None."""

    STANDARD = "SL"
    EXTRA = "XL"


class Service(Enum):
    """What the tyre is made for; temporary and trailer tyres are not for a fitment on the road."""

    PASSENGER = "passenger"
    COMMERCIAL = "commercial"
    LIGHT_TRUCK = "light truck"
    TEMPORARY = "temporary"
    TRAILER = "trailer"

    @property
    def is_for_road_fitment(self) -> bool:
        """Whether a car may be shod with it for good."""
        return self not in (Service.TEMPORARY, Service.TRAILER)


_SERVICES = {
    Prefix.LT: Service.LIGHT_TRUCK,
    Prefix.T: Service.TEMPORARY,
    Prefix.S: Service.TEMPORARY,
    Prefix.ST: Service.TRAILER,
}


def service_of(prefix: Prefix) -> Service:
    """Tell what a tyre with a prefix and no suffix is made for."""
    return _SERVICES.get(prefix, Service.PASSENGER)


@dataclass(frozen=True)
class ServiceDescription:
    """Load indices (single, then dual mounting) and speed symbol, with brackets above 300 km/h."""

    load_indices: tuple[int, ...] = ()
    speed_symbol: str | None = None
    speed_above_300: bool = False

    def __str__(self) -> str:
        text = "/".join(map(str, self.load_indices)) + (self.speed_symbol or "")
        return f"({text})" if self.speed_above_300 else text


@dataclass(frozen=True)
class TyreSize:
    """A tyre as designated.

    `size` is the bare size without prefix, suffix and speed, such as `205/55 R 16`: the key of the
    published tables. `size_letters` are those written into the size before R (`Z`, `H`).
    `nominal_diameter` is in the designation of flotation and configuration A sizes alone.
    """

    form: TyreForm
    size: str
    construction: Construction
    rim_code: str
    nominal_section_width: Mm | None = None
    aspect_ratio: Percent | None = None
    nominal_diameter: Mm | None = None
    prefix: Prefix | None = None
    suffix: Suffix | None = None
    size_letters: str = ""
    run_flat: bool = False
    service_description: ServiceDescription = ServiceDescription()
    load_version: LoadVersion | None = None
    load_range: str | None = None
    typed: str = field(compare=False, default="")

    @property
    def rim_number(self) -> Inch | Mm:
        """The rim code as a number: inches below 100, millimetres from 100 up."""
        return float(self.rim_code)

    @property
    def load_indices(self) -> tuple[int, ...]:
        """Load indices, for single and then for dual mounting; empty if not written."""
        return self.service_description.load_indices

    @property
    def speed_symbol(self) -> str | None:
        """The speed symbol; an old letter in the size counts where nothing else is written."""
        letter = self.size_letters if self.size_letters not in ("", "Z") else None
        return self.service_description.speed_symbol or letter

    @property
    def speed_above_300(self) -> bool:
        """Whether the service description stands in brackets."""
        return self.service_description.speed_above_300

    @property
    def service(self) -> Service:
        """What the tyre is made for."""
        if self.suffix is Suffix.LT:
            return Service.LIGHT_TRUCK
        if self.suffix is Suffix.C:
            return Service.COMMERCIAL
        if self.form is TyreForm.FLOTATION:
            return Service.LIGHT_TRUCK
        return service_of(self.prefix) if self.prefix else Service.PASSENGER

    @property
    def is_extra_load(self) -> bool | None:
        """Whether the tyre is marked extra or high load; None where nothing is written."""
        if self.prefix is Prefix.HL:
            return True
        return None if self.load_version is None else self.load_version is LoadVersion.EXTRA

    @property
    def designation(self) -> str:
        """The size with prefix, letters in the size and suffix, without service description."""
        size = self.size
        if self.construction is Construction.RADIAL:
            mark = self.size_letters + "R" + ("F" if self.run_flat else "")
            size = _with_radial_mark(size, mark)
        prefix = self.prefix.value if self.prefix else ""
        gap = " " if self.prefix is Prefix.HL else ""
        end = "" if self.suffix is None else self.suffix.value
        if self.suffix is not None and self.form is not TyreForm.FLOTATION:
            end = f" {end}"
        return f"{prefix}{gap}{size}{end}"

    def __str__(self) -> str:
        version = self.load_version.value if self.load_version else ""
        parts = (self.designation, str(self.service_description), version, self.load_range or "")
        return " ".join(part for part in parts if part)


def _with_radial_mark(size: str, mark: str) -> str:
    before, _, after = size.rpartition("R")
    return f"{before}{mark}{after}"
