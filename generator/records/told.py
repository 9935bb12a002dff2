"""How the rules write lengths in their sentences, and what the reader has told before them."""

from generator.quantities.quantity import Quantity
from generator.quantities.units import Mm
from generator.reading.fields import Model, declared


def mm(length: Mm) -> str:
    """Write a length to a tenth of a millimetre, without a needless zero.

    >>> mm(12.0), mm(-0.04), mm(36.66)
    ('12 mm', '0 mm', '36.7 mm')
    """
    return f"{round(length, 1) + 0.0:g} mm"


def apart(length: Mm) -> str:
    """Write how far two lengths are apart, without a sign.

    >>> apart(-12.74)
    '12.7 mm'
    """
    return mm(abs(length))


def as_typed(quantity: Quantity) -> str:
    """Write a length as its author did, with millimetres behind it where those were not typed.

    >>> from generator.quantities.quantity import read_quantity
    >>> from generator.quantities.units import Dimension
    >>> as_typed(read_quantity("5.44 in", Dimension.LENGTH))
    '`5.44 in` (138.2 mm)'
    """
    if quantity.unit.symbol == "mm":
        return f"`{quantity.typed}`"
    return f"`{quantity.typed}` ({mm(quantity.value)})"


def is_usual(model: type[Model], name: str, value: Mm) -> bool:
    """Tell whether a field's own range is kept; else the reader has told what is wrong already."""
    usual = declared(model.model_fields[name]).usual
    return usual is None or usual[0] <= value <= usual[1]
