"""Published numbers as typed functions. Each reads one table of one source, once, when asked.

A key that a table does not have raises LookupError, whose text says what the table has: no number
is made up by extending a table. `published_tables` lists them all, for the pages that cite them.
"""

import re
from collections.abc import Mapping
from functools import cache
from itertools import pairwise
from math import floor
from pathlib import Path
from typing import Any

from generator.published import values
from generator.quantities.thread import MM_PER_INCH
from generator.quantities.tyre_marks import Construction, TyreSize
from generator.quantities.units import Bar, Deg, Inch, Kg, KmPerHour, Mm, Ratio

_MM_RIM: Mm = 100.0
"""Rim codes from here up are millimetres."""
FULL_LOAD_SYMBOL = "H"
"""Up to this symbol the full load holds to the symbol's speed [HANDBOOK] figure 10.1-14."""
_CONSTRUCTIONS = {
    Construction.RADIAL: "radial",
    Construction.DIAGONAL: "diagonal",
    Construction.BIAS_BELTED: "bias-belted",
}
_FOLDER = Path(__file__).parent


@cache
def _document(name: str) -> Mapping[str, Any]:
    import yaml

    text = (_FOLDER / f"{name}.yaml").read_text(encoding="utf-8")
    # Our own files, and a loader that makes plain values only.
    document: Mapping[str, Any] = yaml.load(text, Loader=yaml.CSafeLoader)
    return document


def rows(source: str, table: str) -> Mapping[Any, Any]:
    """Give the rows of a table, for the modules of this room."""
    found: Mapping[Any, Any] = _document(source)[table]["rows"]
    return found


def row(source: str, table: str, key: object) -> Any:
    """Give one row of a table, for the modules of this room, or raise LookupError."""
    found = rows(source, table)
    if key not in found:
        title = _document(source)[table]["title"]
        raise LookupError(f"{title}: no row for {key}, only for {', '.join(map(str, found))}")
    return found[key]


@cache
def sources() -> tuple[values.Source, ...]:
    """Give all sources in the order of the file."""
    return tuple(
        values.Source(
            key,
            entry["body"],
            entry["title"],
            str(entry["edition"]),
            entry["clauses"],
            values.Known[entry["known"].upper()],
            entry.get("note", ""),
        )
        for key, entry in _document("sources").items()
    )


@cache
def _sources_by_plain_key() -> Mapping[str, values.Source]:
    return {_plain(source.key): source for source in sources()}


def _plain(key: str) -> str:
    return re.sub("[^A-Z0-9]", "", key.upper())


def source(key: str) -> values.Source:
    """Give one source; case and punctuation of the key do not matter.

    Raises LookupError for a key that sources.yaml does not have.

    >>> source("UN R30").key
    'UNR30'
    """
    found = _sources_by_plain_key().get(_plain(key))
    if found is None:
        known = ", ".join(entry.key for entry in sources())
        raise LookupError(f"no source has the key {key}; there are {known}")
    return found


@cache
def published_tables() -> tuple[values.PublishedTable, ...]:
    """Give what every table is and where it is from, by source and name."""
    tables = []
    for entry in sources():
        if not (_FOLDER / f"{entry.key.lower()}.yaml").is_file():
            continue
        for name, table in _document(entry.key.lower()).items():
            tables.append(
                values.PublishedTable(
                    name,
                    table["title"],
                    entry.key,
                    str(table["clause"]),
                    values.Mark[table["mark"].upper()],
                    tuple(table["unit"].items()),
                    table.get("note", ""),
                )
            )
    return tuple(tables)


def published_table(name: str) -> values.PublishedTable:
    """Give what one table is and where it is from.

    >>> published_table("load_index").citation
    '[UNR30] annex 4'
    """
    for table in published_tables():
        if table.name == name:
            return table
    raise LookupError(f"no published table is named {name}")


def load_capacity(index: int) -> Kg:
    """Load capacity of a tyre by its load index, 60 to 125. Source: [UNR30] annex 4.

    >>> load_capacity(91)
    615.0
    """
    return float(row("unr30", "load_index", index))


def top_speed(symbol: str) -> KmPerHour:
    """Highest speed of a tyre by its speed symbol. Source: [UNR30] table of speed symbols.

    >>> top_speed("H")
    210.0
    """
    return float(row("unr30", "speed_symbol", symbol))


def speed_symbols() -> tuple[str, ...]:
    """Give all speed symbols, the slowest first. Source: [UNR30] table of speed symbols."""
    speeds = rows("unr30", "speed_symbol")
    return tuple(sorted(speeds, key=speeds.__getitem__))


def speed_above(marking: str) -> KmPerHour:
    """Speed that `ZR` in a size, or `brackets`, exceed. Source: [UNR30], from memory."""
    return float(row("unr30", "speed_above", marking))


def load_share_at_speed(symbol: str, speed: KmPerHour) -> Ratio:
    """Share of the load capacity that may be used at a speed.

    speed: up to the speed of the symbol. Raises LookupError above it or for an unknown symbol.
    Source: [HANDBOOK] figure 10.1-14, linear between its columns.

    >>> round(load_share_at_speed("V", 225.0), 4)
    0.955
    """
    if not speed <= top_speed(symbol):
        raise LookupError(f"{speed:g} km/h is above the speed of the symbol {symbol}")
    if top_speed(symbol) <= top_speed(FULL_LOAD_SYMBOL):
        return 1.0
    shares = row("handbook", "load_at_speed", symbol)
    return (
        _interpolated(tuple((float(at), float(share)) for at, share in shares.items()), speed) / 100
    )


def pressure_rise_for_camber(camber: Deg) -> Ratio:
    """Share by which the inflation pressure is raised for a wheel with camber, either sign.

    Raises LookupError above 4 degrees, where the scale ends. Source: [HANDBOOK] pages 296 and 297.

    >>> round(pressure_rise_for_camber(-3.0), 4)
    0.066
    """
    scale = rows("handbook", "camber_pressure")
    points = tuple((float(at), float(rise)) for at, rise in scale)
    if not abs(camber) <= points[-1][0]:
        raise LookupError(f"the scale ends at {points[-1][0]:g} degrees of camber, not {camber:g}")
    return _interpolated(points, abs(camber)) / 100


def _interpolated(points: tuple[tuple[float, float], ...], at: float) -> float:
    if at <= points[0][0]:
        return points[0][1]
    for (x0, y0), (x1, y1) in pairwise(points):
        if at <= x1:
            return y0 + (y1 - y0) * (at - x0) / (x1 - x0)
    return points[-1][1]


def highest_cold_pressure(symbol: str) -> Bar:
    """Highest cold pressure by speed symbol. Source: [HANDBOOK] pages 296 and 297."""
    return float(row("handbook", "pressure_ceiling", symbol))


def rim_diameter(code: float) -> Mm:
    """Nominal rim diameter by rim code; from 100 up the code is the diameter.

    Source: [UNR30] and, for half codes, [UNR54], tables of d, from memory.

    >>> rim_diameter(16), rim_diameter(22.5), rim_diameter(390)
    (406.0, 572.0, 390.0)
    """
    if code >= _MM_RIM:
        return float(code)
    half = not float(code).is_integer()
    place = ("unr54", "half_rim_diameter") if half else ("unr30", "rim_diameter")
    return float(row(*place, code))


def theoretical_rim_factor(aspect: float) -> Ratio:
    """Theoretical rim width over nominal section width, x. Source: [ETRTO], from memory.

    >>> theoretical_rim_factor(55)
    0.7
    """
    return float(row("etrto", "theoretical_rim_factor", aspect))


def measuring_rim_factor(aspect: float) -> Ratio:
    """Measuring rim width over nominal section width, K2. Source: [ETRTO], second hand."""
    return float(row("etrto", "measuring_rim_factor", aspect))


def measuring_rim(nominal_section_width: Mm, aspect: float) -> Inch:
    """Width of the rim that a size is measured on, to the nearest half inch.

    Raises LookupError for an aspect ratio outside the series.
    Source: [ETRTO] design guide, second hand; agrees with the tables known from memory.

    >>> measuring_rim(205.0, 55)
    6.5
    """
    width = measuring_rim_factor(aspect) * nominal_section_width / MM_PER_INCH
    return floor(2.0 * width + 0.5) / 2.0


def full_profile_size(name: str) -> values.FullProfileSize:
    """Dimensions of a size without aspect ratio, by its bare size. Source: [UNR30] annex 5, memory.

    >>> full_profile_size("165 R 13").diameter
    596.0
    """
    return values.FullProfileSize(*map(float, row("unr30", "full_profile_size", name)))


def flotation_size(name: str) -> values.FlotationSize:
    """Dimensions of a flotation size, by its designation. Source: [UNR54] annex 5, from memory.

    >>> flotation_size("31x10.50R15LT").diameter
    775.0
    """
    return values.FlotationSize(*map(float, row("unr54", "flotation_size", name)))


def approved_rims(size: TyreSize) -> values.RimRange | None:
    """Approved rim widths of a size, or None where none is known. Source: [ETRTO], from memory."""
    widths = rows("etrto", "approved_rims").get(size.size)
    return None if widths is None else values.RimRange(*map(float, widths))


def size_tolerance(construction: Construction) -> values.SizeTolerance:
    """Limits of a new passenger tyre over its design size. Source: [UNR30] 6.1.5, from memory."""
    shares = row("unr30", "size_tolerance", _CONSTRUCTIONS[construction])
    return values.SizeTolerance(*map(float, shares))


def commercial_size_tolerance(construction: Construction) -> values.SizeTolerance:
    """Limits of a new commercial tyre over its design size. Source: [UNR54] 6.1.5, from memory."""
    shares = row("unr54", "commercial_size_tolerance", _CONSTRUCTIONS[construction])
    return values.SizeTolerance(*map(float, shares))


def rim_protector_allowance() -> Mm:
    """Width a rim-protecting rib may add to the limit. Source: [UNR30] 6.1.4.2.3, from memory."""
    return float(row("unr30", "rim_protector", "rib"))


def width_factor(case: str = "ordinary") -> Ratio:
    """Section width per rim width, `ordinary` or `configuration A`. Source: [UNR30] 6.1.1.1."""
    return float(row("unr30", "width_factor", case))


def constructions() -> tuple[Construction, ...]:
    """Give the constructions that the tables know."""
    return tuple(_CONSTRUCTIONS)


def rolling_factor(construction: Construction) -> Ratio:
    """Circumference rolled over diameter. Source: [ETRTO], from memory."""
    return float(row("etrto", "rolling_factor", _CONSTRUCTIONS[construction]))


def load_pressure_law() -> values.LoadPressureLaw:
    """Law of load against pressure. Source: [ETRTO] notes to the load tables."""
    return values.LoadPressureLaw(**rows("etrto", "load_pressure"))


def speedometer_law() -> values.SpeedometerLaw:
    """Law between indicated and true speed. Source: [UNR39] 5.3."""
    return values.SpeedometerLaw(**rows("unr39", "speedometer"))


def load_range_plies(letter: str) -> int:
    """Ply rating of a load range letter. Source: [TRA], from memory."""
    return int(row("tra", "load_range", letter))


def bead_seat_diameter(code: float) -> Mm:
    """Diameter of the rim at the bead seat. Source: [ISO4000-2], from memory.

    >>> bead_seat_diameter(16)
    405.6
    """
    return float(row("iso4000-2", "bead_seat_diameter", code))


def flange_height(flange: str) -> Mm:
    """Height of the flange above the bead seat. Source: [ISO4000-2], from memory."""
    return float(row("iso4000-2", "flange_height", flange))


def largest_brake(code: float) -> values.LargestBrake:
    """Largest disc and drum that fit a rim code, 12 to 17. Source: [HANDBOOK] figure 10.1-10."""
    return values.LargestBrake(*map(float, row("handbook", "largest_brake", code)))


def run_out_limits() -> tuple[values.RunOut, ...]:
    """Give service limits of run-out of several makers. Source: [MAKERSDATA], second hand."""
    return tuple(
        values.RunOut(what, radial, lateral)
        for what, (radial, lateral) in rows("makersdata", "run_out").items()
    )


def run_out_warning() -> values.RunOutWarning:
    """Run-out that calls for a warning. Source: [PRACTICE]."""
    return values.RunOutWarning(
        row("practice", "run_out_warning", "aluminium wheel"),
        row("practice", "run_out_warning", "tyre and wheel"),
    )


def passenger_tyre_divisor() -> Ratio:
    """Divisor of a passenger tyre's load on other vehicles. Source: [FMVSS120] S5.1.2."""
    return float(row("fmvss120", "passenger_tyre_divisor", "divisor"))


def tyre_age() -> values.TyreAge:
    """Ages of a tyre that call for a note and a warning. Source: [PRACTICE]."""
    return values.TyreAge(**rows("practice", "tyre_age"))


def identification_length() -> values.IdentificationLength:
    """Lengths of tyre identification numbers. Source: [CFR574] 574.5; earlier ones from memory."""
    lengths = rows("cfr574", "identification_length")
    return values.IdentificationLength(
        lengths["new"][0], lengths["retread"][0], tuple(lengths["before the rule of 2015"])
    )
