"""The formulas the guide uses, in words and symbols, each with its source."""

from generator.frozen import dataclass


@dataclass(frozen=True)
class Formula:
    """One formula: what it gives, the symbols, what they mean, and where it is from."""

    gives: str
    symbols: str
    words: str
    source: str
    clause: str = ""
    standing: str = ""


@dataclass(frozen=True)
class Chapter:
    """Formulas that belong together."""

    title: str
    anchor: str
    intro: str
    formulas: tuple[Formula, ...]


WHEEL = Chapter(
    "Wheel", "wheel",
    "All lengths across the car count from the hub face, outboard positive. W is the "
    "rim width between the flanges, t the thickness of a flange outside it, ET the offset, s the "
    "spacer. A flange that nobody measured is taken as 12.7\u00a0±\u00a03\u00a0mm, which is common "
    "practice.",
    (
        Formula("backspacing", "B = W / 2 + t + ET", "half the width, the inboard flange and the "
                "offset", "UNR124", "2.6 for the offset; the sum is plain geometry"),
        Formula("front spacing", "F = W / 2 + t − ET", "the same towards the outboard lip",
                "GEOMETRY"),
        Formula("overall width", "W + t(in) + t(out)", "the wheel is wider than its stamp by both "
                "flanges", "GEOMETRY"),
        Formula("effective offset", "ET(eff) = ET − s", "a spacer takes its thickness off the "
                "offset", "GEOMETRY"),
        Formula("lips", "u(in) = s − B,  u(out) = s + F", "where the wheel's two edges stand",
                "GEOMETRY"),
        Formula("offset and backspacing both given", "weights 1 / u²",
                "they are combined by least variance, and their difference is shown; a large one "
                "is a fault", "GUM", "5.2.2"),
    ),
)  # fmt: skip
TYRE = Chapter(
    "Tyre", "tyre",
    "What was measured goes before what the size implies. Two tyres of one size may differ by more "
    "than a size step: a size alone counts as ±\u00a06\u00a0mm in width and ±\u00a05\u00a0mm in "
    "diameter, which is common practice.",
    (
        Formula("section height", "H = S · aspect / 100", "nominal width times aspect ratio",
                "UNR30", "6.1.2"),
        Formula("overall diameter", "D = d + 2 H", "rim diameter and two section heights", "UNR30",
                "6.1.2"),
        Formula("section width on another rim", "S = S(1) + 0.4 · (A − A(1))",
                "0.4 mm for each millimetre of rim beyond the measuring rim", "UNR30", "6.1.1.1"),
        Formula("tyre faces", "u = s − ET ± S / 2", "the tyre sits in the middle of its rim",
                "GEOMETRY"),
        Formula("loaded radius", "R = 0.965 · D / 2", "with ± 0.01 for pressures and loads",
                "PRACTICE"),
        Formula("rolling circumference", "C = 3.05 · D (radial), 2.99 · D (diagonal)",
                "distance of one turn", "ETRTO", "design information"),
        Formula("speed at the same reading", "(D / D(stock) − 1) · 100 %",
                "distance goes with the diameter", "GEOMETRY"),
    ),
)  # fmt: skip
CHANGE = Chapter(
    "Against stock", "against-stock",
    "Differences are better known than places: a flange or a hub that is the same before and after "
    "falls out.",
    (
        Formula("inner face", "ΔS / 2 + ΔET(eff)", "plus is further inboard", "GEOMETRY"),
        Formula("outer face", "ΔS / 2 − ΔET(eff)", "plus is further outboard", "GEOMETRY"),
        Formula("track", "−2 · ΔET(eff)", "both sides of an axle alike", "GEOMETRY"),
        Formula("poke", "u(out, tyre) − (body width − face distance) / 2",
                "beyond the widest skin, at hub height", "GEOMETRY"),
    ),
)  # fmt: skip
GAP = Chapter(
    "Gaps", "gaps",
    "A tyre and its wheel are bodies of revolution. So the least distance to a point of the car is "
    "found in the plane of that point and the spin axis, exactly.",
    (
        Formula("place of a point on the wheel", "(u, r)",
                "the point is moved into the wheel's own frame: u along the spin axis, r from it",
                "GEOMETRY"),
        Formula("gap", "least signed distance to the outline",
                "outline of tyre and flanges together; minus is overlap", "GEOMETRY"),
        Formula("steering", "turn by δ about the steering axis",
                "the axis leans by caster and kingpin inclination; axes after ISO 8855", "ISO8855",
                "7"),
        Formula("least gap", "least over every travel and steer",
                "the sweep between the named positions is searched too", "GEOMETRY"),
        Formula("uncertainty", "u² = Σ (∂f / ∂x)² u(x)²",
                "what wheel, tyre, tool and the site's place on the sheet add; what depends on "
                "each other is kept so", "GUM", "5.1, 5.2"),
    ),
)  # fmt: skip
CHAPTERS = (WHEEL, TYRE, CHANGE, GAP)

SIGNS: tuple[tuple[str, str], ...] = (
    ("offset", "plus: the mounting face lies outboard of the wheel's centre plane"),
    ("distance from the hub face", "plus: outboard, on both sides of the car"),
    ("travel", "plus: bump, the wheel up against the body"),
    ("camber", "plus: top outboard"),
    ("toe and steer", "plus: front of the wheel outboard (toe-out)"),
    ("kingpin inclination", "plus: top inboard"),
    ("caster", "plus: top rearward"),
    ("ride height", "plus: the body higher than the sheet's reference"),
    ("poke", "plus: beyond the body's skin"),
    ("gap", "plus: free; minus: overlap"),
)
BASES: tuple[tuple[str, str], ...] = (
    ("measured", "a member measured it; the tool's spread and the last digit typed count"),
    ("published", "a standard or a maker's data sheet says so"),
    ("stamped", "it stands on the part, and the part was not measured"),
    ("inferred", "it follows from the size or from the geometry"),
    ("assumed", "nobody measured it; what is usual in the trade stands in"),
)
