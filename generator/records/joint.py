"""What holds a wheel at one end of a car, put together from a record and its chassis sheet.

Lengths run outboard from the hub's mounting face. A bolt-on spacer has studs of its own, whose
length nobody gave, so that nothing is stacked over one.
"""

from generator.geometry.fastening import Stack
from generator.quantities.estimate import Basis, Estimate
from generator.quantities.quantity import Quantity
from generator.quantities.thread import Thread
from generator.quantities.units import Mm
from generator.records.axle_sheet import AxleSheet
from generator.records.fitted import AxleSetup
from generator.records.words import Fixing, NutForm, SpacerKind


def exact(quantity: Quantity | None, source: str) -> Estimate:
    """Take a length as typed, nothing where it is not given."""
    return Estimate(0.0 if quantity is None else quantity.value, 0.0, Basis.MEASURED, (source,))


def thread_of(fitted: AxleSetup, sheet: AxleSheet | None) -> Thread | None:
    """Give the thread: the record's, else the sheet's."""
    if fitted.hardware is not None:
        return fitted.hardware.thread
    return None if sheet is None else sheet.fastening.thread


def nut_of(fitted: AxleSetup, sheet: AxleSheet | None) -> NutForm | None:
    """Give the form of the nut: the record's, else the sheet's."""
    if fitted.hardware is not None and fitted.hardware.nut is not None:
        return fitted.hardware.nut
    return None if sheet is None else sheet.fastening.nut


def is_bolted(fitted: AxleSetup, sheet: AxleSheet | None) -> bool:
    """Tell whether bolts, and not studs with nuts, hold the wheel."""
    if fitted.hardware is not None and fitted.hardware.nut is not None:
        return fitted.hardware.nut is NutForm.BOLT
    return sheet is not None and sheet.fastening.fixing is Fixing.BOLTS


def has_bolt_on_spacer(fitted: AxleSetup) -> bool:
    """Tell whether the wheel stands on a spacer with studs of its own."""
    return fitted.spacer is not None and fitted.spacer.kind is SpacerKind.BOLT_ON


def spacer_of(fitted: AxleSetup) -> Mm:
    """Give the spacers' thickness; none written means none fitted."""
    return 0.0 if fitted.spacer is None else fitted.spacer.thickness.value


def stack_of(fitted: AxleSetup, sheet: AxleSheet | None) -> Stack | None:
    """Stack spacer and pad on stud or bolt; None where a length is missing.

    The stud's length is the record's, else that of the sheet; a bolt's is the record's alone,
    since the sheet gives only the thread of the stock bolt in the hub.
    """
    length = fitted.hardware.length if fitted.hardware else None
    if length is None and sheet is not None and not is_bolted(fitted, sheet):
        length = sheet.fastening.length
    pad = fitted.wheel.pad_thickness
    if length is None or pad is None or has_bolt_on_spacer(fitted):
        return None
    return Stack(
        exact(length, "stud length"),
        exact(fitted.spacer.thickness if fitted.spacer else None, "spacer thickness"),
        exact(pad, "pad thickness"),
    )
