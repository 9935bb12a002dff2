"""Which tyre to think of on a rim: those of the records and of the sheet, and the next sizes."""

from collections import Counter
from collections.abc import Iterable

from generator.frozen import dataclass
from generator.published import tables
from generator.quantities.misread import Misread
from generator.quantities.rim_size import MM_PER_INCH
from generator.quantities.span import Extent
from generator.quantities.tyre_marks import TyreForm, TyreSize
from generator.quantities.tyre_size import read_tyre_size
from generator.quantities.units import Inch, Mm, Percent
from generator.records.axle_sheet import AxleSheet
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.records.words import Axle

BELOW_MEASURING: Inch = 0.5
ABOVE_MEASURING: Inch = 1.0
"""Rim widths round the measuring rim that makers approve at the least: common practice."""
_STEPS: tuple[tuple[Mm, Percent], ...] = (
    (0.0, -5.0),
    (-10.0, 5.0),
    (-10.0, 0.0),
    (-10.0, -5.0),
    (-20.0, 5.0),
    (-20.0, 0.0),
)
"""The next sizes that are shorter, narrower or both: change of section width and of aspect."""


@dataclass(frozen=True)
class Choice:
    """A tyre, and the rim widths it is approved on."""

    size: TyreSize
    least: Inch
    most: Inch


def choice(size: TyreSize, said: Extent | None = None) -> Choice | None:
    """Give a tyre with its rim widths: those of its maker, else the table's, else the usual ones.

    None where nothing is known of it.
    """
    if said is not None:
        return Choice(size, said.low / MM_PER_INCH, said.high / MM_PER_INCH)
    known = tables.approved_rims(size)
    if known is not None:
        return Choice(size, known.least, known.most)
    if size.nominal_section_width is None or size.aspect_ratio is None:
        return None
    try:
        middle = tables.measuring_rim(size.nominal_section_width, size.aspect_ratio)
    except LookupError:
        return None
    return Choice(size, middle - BELOW_MEASURING, middle + ABOVE_MEASURING)


def usual_tyres(axle: Axle, sheet: AxleSheet, setups: Iterable[Filed[Setup]]) -> tuple[Choice, ...]:
    """Give the tyres of the records of one chassis, the most used first, and the stock tyre."""
    counted: Counter[str] = Counter()
    known: dict[str, Choice] = {}
    for filed in setups:
        tyre = (filed.value.front if axle is Axle.FRONT else filed.value.rear).tyre
        found = choice(tyre.size, tyre.approved_rims)
        if found is not None and filed.value.withdrawn is None:
            counted[tyre.size.size] += 1
            known.setdefault(tyre.size.size, found)
    ordered = sorted(known, key=lambda name: (-counted[name], name))
    stock = choice(sheet.stock_tyre.size, sheet.stock_tyre.approved_rims)
    last = (stock,) if stock is not None and stock.size.size not in known else ()
    return (*(known[name] for name in ordered), *last)


def smaller_sizes(size: TyreSize, width: Inch) -> tuple[TyreSize, ...]:
    """Give the next sizes for the same rim that are narrower or shorter and in no way larger.

    Only those approved on the wheel's width. They carry no service description: load index and
    speed symbol are the seller's to show.
    """
    if size.form is not TyreForm.METRIC or size.nominal_section_width is None:
        return ()
    found = []
    for less, flatter in _STEPS:
        across, before = size.nominal_section_width + less, size.aspect_ratio or 0.0
        aspect = before + flatter
        if across * aspect > size.nominal_section_width * before:
            continue
        text = f"{across:g}/{aspect:g} R{size.rim_code}"
        try:
            smaller = choice(read_tyre_size(text))
        except Misread:
            continue
        if smaller is not None and smaller.least <= width <= smaller.most:
            found.append(smaller.size)
    return tuple(found)
