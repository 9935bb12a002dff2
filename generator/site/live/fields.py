"""The fields of a trial: key, label, help and range as the fields of a record have them."""

from enum import Enum

from generator.frozen import dataclass
from generator.reading.fields import Model, declared
from generator.records.fitted import (
    AxleSetup,
    Bodywork,
    BumpStopFitted,
    RideHeight,
    Spacer,
    TyreFitted,
    WheelFitted,
)
from generator.records.words import CamberBy, Lips, StopState
from generator.site.live.fitted import Json

_RIM_WIDTHS = (3.0, 14.0)
_RIM_DIAMETERS = (10.0, 24.0)
_ANGLE, _LENGTH, _INCHES, _TYRE, _WORD = "angle", "length", "inches", "tyre", "word"


@dataclass(frozen=True)
class TrialField:
    """One field of one end: `kind` decides how it is read, `step` what a press of a key adds.

    `low` and `high` are in mm, degrees or, for a rim, inches. `front_only` fields steer.
    """

    key: str
    label: str
    hint: str
    kind: str
    step: float = 0.0
    low: float = 0.0
    high: float = 0.0
    options: tuple[str, ...] = ()
    front_only: bool = False

    @property
    def as_json(self) -> Json:
        """Give what the script needs to know of it."""
        return {
            "key": self.key, "kind": self.kind, "step": self.step, "low": self.low,
            "high": self.high, "options": self.options, "frontOnly": self.front_only,
        }  # fmt: skip


def _help(model: type[Model], name: str) -> str:
    return declared(model.model_fields[name]).help


def _number(
    key: str, label: str, kind: str, step: float, where: tuple[type[Model], str]
) -> TrialField:
    told = declared(where[0].model_fields[where[1]])
    low, high = told.limit or told.usual or (-1000.0, 1000.0)
    return TrialField(key, label, told.help, kind, step, low, high)


def _word(key: str, label: str, kind: type[Enum], where: tuple[type[Model], str]) -> TrialField:
    options = tuple(str(member.value) for member in kind)
    return TrialField(key, label, _help(*where), _WORD, options=options)


def _rim(key: str, label: str, step: float, span: tuple[float, float]) -> TrialField:
    return TrialField(key, label, _help(WheelFitted, "size"), _INCHES, step, *span)


_SHIM = _number("shim", "steering-stop shim", _LENGTH, 1.0, (AxleSetup, "stop_shim"))

FIRST: tuple[TrialField, ...] = (
    _rim("width", "rim width", 0.5, _RIM_WIDTHS),
    _rim("diameter", "rim diameter", 1.0, _RIM_DIAMETERS),
    _number("offset", "offset", _LENGTH, 1.0, (WheelFitted, "offset")),
    _number("spacer", "spacer", _LENGTH, 1.0, (Spacer, "thickness")),
    TrialField("tyre", "tyre", _help(TyreFitted, "size"), _TYRE),
)
"""What every trial asks for."""

MORE: tuple[TrialField, ...] = (
    _number("sectionWidth", "section width, measured", _LENGTH, 1.0, (TyreFitted, "section_width")),
    _number("treadWidth", "tread width, measured", _LENGTH, 1.0, (TyreFitted, "tread_width")),
    _number("tyreDiameter", "tyre diameter, measured", _LENGTH, 1.0, (TyreFitted, "diameter")),
    _number("camber", "camber", _ANGLE, 0.25, (AxleSetup, "camber")),
    _word("camberBy", "camber set at", CamberBy, (AxleSetup, "camber_by")),
    _number("rideHeight", "ride height against the sheet", _LENGTH, 5.0, (RideHeight, "change")),
    _word("stop", "bump stop", StopState, (BumpStopFitted, "state")),
    _number("trimmed", "cut off the bump stop", _LENGTH, 2.0, (BumpStopFitted, "trimmed")),
    _number("spaced", "added under the bump stop", _LENGTH, 2.0, (BumpStopFitted, "spaced")),
    TrialField(**{**vars(_SHIM), "front_only": True}),
    _word("lips", "lips", Lips, (Bodywork, "lips")),
    _number("lipsGained", "room gained at the lip", _LENGTH, 1.0, (Bodywork, "lips_gained")),
)
"""What is asked for where somebody has measured or changed it."""


def fields_json() -> list[Json]:
    """Give all fields for the script."""
    return [field.as_json for field in (*FIRST, *MORE)]
