"""The command `gapbook try`: from options to a candidate, judged by the records of its chassis."""

import argparse
from collections.abc import Callable
from datetime import date
from pathlib import Path

from generator.assessment.assess import assess
from generator.evidence.candidate import (
    AxleChange,
    Candidate,
    from_nothing,
    like_record,
    like_stock,
)
from generator.evidence.club import ChassisEvidence, learn_library
from generator.evidence.trial import Trial, try_out
from generator.frozen import dataclass
from generator.quantities.misread import Misread
from generator.quantities.quantity import Quantity, read_quantity
from generator.quantities.rim_size import read_rim_size
from generator.quantities.tyre_size import read_tyre_size
from generator.quantities.units import Dimension
from generator.reading.fault import Fault, Severity
from generator.reading.fields import Model, choice, declared
from generator.reading.folder import content_files
from generator.reading.trouble import GuideError
from generator.records.chassis import Chassis
from generator.records.checking import check
from generator.records.collect import collect
from generator.records.fitted import (
    AxleSetup,
    Bodywork,
    BumpStopFitted,
    RideHeight,
    Spacer,
    TyreFitted,
    WheelFitted,
)
from generator.records.library import Filed, Library, sheet_path
from generator.records.words import Axle, CamberBy, Lips, StopState

STOCK, NOTHING = "stock", "nothing"
ENDS = ("front", "rear", "both")


@dataclass(frozen=True)
class Option:
    """One option of an end: its name, what it changes, how it is read, whose range it has."""

    name: str
    field: str
    read: Callable[[str], object]
    model: type[Model]
    model_field: str


def _length(text: str) -> Quantity:
    return read_quantity(text, Dimension.LENGTH)


def _angle(text: str) -> Quantity:
    return read_quantity(text, Dimension.ANGLE)


OPTIONS: tuple[Option, ...] = (
    Option("wheel", "size", read_rim_size, WheelFitted, "size"),
    Option("offset", "offset", _length, WheelFitted, "offset"),
    Option("spacer", "spacer", _length, Spacer, "thickness"),
    Option("tyre", "tyre", read_tyre_size, TyreFitted, "size"),
    Option("section-width", "section_width", _length, TyreFitted, "section_width"),
    Option("tread-width", "tread_width", _length, TyreFitted, "tread_width"),
    Option("diameter", "diameter", _length, TyreFitted, "diameter"),
    Option("camber", "camber", _angle, AxleSetup, "camber"),
    Option("camber-by", "camber_by", choice(CamberBy), AxleSetup, "camber_by"),
    Option("ride-height", "ride_height", _length, RideHeight, "change"),
    Option("bump-stop", "stop", choice(StopState), BumpStopFitted, "state"),
    Option("trimmed", "trimmed", _length, BumpStopFitted, "trimmed"),
    Option("spaced", "spaced", _length, BumpStopFitted, "spaced"),
    Option("stop-shim", "shim", _length, AxleSetup, "stop_shim"),
    Option("lips", "lips", choice(Lips), Bodywork, "lips"),
    Option("lips-gained", "lips_gained", _length, Bodywork, "lips_gained"),
)


@dataclass(frozen=True)
class Tried:
    """A trial, and the faults of the files that it rests on."""

    trial: Trial | None
    faults: tuple[Fault, ...]


def help_of(option: Option) -> str:
    """Give the help of an option: that of the field of a record."""
    told = declared(option.model.model_fields[option.model_field])
    example = f', such as "{told.example}"' if told.example else ""
    return f"{told.help}{example}".replace("%", "%%")


def tried(options: argparse.Namespace, *, today: date) -> Tried:
    """Judge what the options describe. Raises GuideError for an option that cannot be read."""
    changes = {axle: _change(options, axle) for axle in Axle}
    library, faults = _library(options.content, options.chassis, today)
    chassis = library.chassis.get(options.chassis)
    if chassis is None:
        wrong = tuple(fault for fault in faults if fault.severity is Severity.ERROR)
        if wrong:
            return Tried(None, wrong)
        raise GuideError(f"there is no chassis `{options.chassis[:40]}` in {options.content}")
    candidate = _candidate(options.start, chassis, library, changes, today)
    wrong = tuple(fault for fault in faults if fault.severity is Severity.ERROR)
    return Tried(try_out(candidate, _evidence(library, chassis, faults)), wrong)


def _library(content: Path, chassis: str, today: date) -> tuple[Library, tuple[Fault, ...]]:
    """Read what a chassis rests on: the club, its sheet, its records."""
    files, _ = content_files(content)
    wanted = ("club.yaml", sheet_path(chassis))
    near = [
        found
        for found in files
        if found.path in wanted or found.path.startswith(f"setups/{chassis}/")
    ]
    collected = collect(near)
    ruled = check(collected.library, today=today)
    own = tuple(fault for fault in ruled if fault.place.path.startswith(("setups/", "chassis/")))
    return collected.library, (*collected.faults, *own)


def _evidence(
    library: Library, chassis: Filed[Chassis], faults: tuple[Fault, ...]
) -> ChassisEvidence:
    """Learn from the records of a chassis without those that have errors."""
    faulty = {fault.place.path for fault in faults if fault.severity is Severity.ERROR}
    assessments = {
        case.setup.id: assess(case)
        for case in library.cases()
        if case.chassis is not None and case.setup.source.path not in faulty
    }
    return learn_library(library, assessments)[chassis.id]


def _candidate(
    start: str,
    chassis: Filed[Chassis],
    library: Library,
    changes: dict[Axle, AxleChange],
    today: date,
) -> Candidate:
    try:
        if start == NOTHING:
            return from_nothing(chassis, changes[Axle.FRONT], changes[Axle.REAR], day=today)
        candidate = like_stock(chassis, day=today)
        if start != STOCK:
            name = start if "/" in start else f"{chassis.id}/{start}"
            record = library.setups.get(name)
            if record is None:
                raise GuideError(f"there is no setup `{name[:80]}` to start from")
            candidate = like_record(chassis, record)
        for axle, change in changes.items():
            candidate = candidate.changed(axle, change)
    except ValueError as trouble:
        raise GuideError(f"this setup cannot be put together: {trouble}") from None
    return candidate


def _change(options: argparse.Namespace, axle: Axle) -> AxleChange:
    """Read the options of one end; its own go before those for both."""
    said: dict[str, object] = {}
    for option in OPTIONS:
        for end in ("both", axle.value):
            text = getattr(options, f"{end}_{option.name}".replace("-", "_"))
            if text is not None:
                said[option.field] = _read(option, f"--{end}-{option.name}", text)
    if options.lower is not None and "ride_height" not in said:
        lowered = _read(_LOWER, "--lower", options.lower)
        if isinstance(lowered, Quantity):
            said["ride_height"] = _downwards(lowered)
    for option in (_LIPS, _GAINED):
        text = getattr(options, option.name.replace("-", "_"))
        if text is not None and option.field not in said:
            said[option.field] = _read(option, f"--{option.name}", text)
    return AxleChange(**said)  # type: ignore[arg-type]


_BY_NAME = {option.name: option for option in OPTIONS}
_LIPS, _GAINED, _LOWER = _BY_NAME["lips"], _BY_NAME["lips-gained"], _BY_NAME["ride-height"]


def _downwards(lowered: Quantity) -> Quantity:
    typed = lowered.typed[1:] if lowered.typed.startswith("-") else f"-{lowered.typed}"
    return Quantity(-lowered.value, typed, lowered.unit, lowered.resolution, typed)


def _read(option: Option, name: str, text: str) -> object:
    try:
        value = option.read(text)
    except Misread as trouble:
        fix = f"; type `{trouble.fix}`" if trouble.fix else f"; expected is {trouble.expected}"
        raise GuideError(f"{name}: {trouble.headline}{fix}") from None
    limit = declared(option.model.model_fields[option.model_field]).limit
    if isinstance(value, Quantity) and limit and not limit[0] <= value.value <= limit[1]:
        unit = "mm" if option.read is _length else "deg"
        raise GuideError(
            f"{name}: `{text}` lies outside {limit[0]:g} to {limit[1]:g} {unit}, the range in "
            "which the guide can say anything"
        )
    return value
