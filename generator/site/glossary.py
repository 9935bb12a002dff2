"""The words of the trade as this guide uses them, each with where its meaning comes from.

`source` is a key of published/sources.yaml with a clause, or empty for common practice.
"""

from generator.frozen import dataclass


@dataclass(frozen=True)
class Term:
    """One word: its name, what it means here, and where that is from."""

    name: str
    meaning: str
    source: str = ""
    clause: str = ""
    see: tuple[str, ...] = ()

    @property
    def anchor(self) -> str:
        """Give the id of the term on the glossary page.

        >>> Term("effective offset", "").anchor
        'effective-offset'
        """
        return "".join(sign if sign.isalnum() else "-" for sign in self.name.lower())


TERMS: tuple[Term, ...] = (
    Term("Ackermann", "The difference between the angles of the two front wheels in a turn, so "
         "that each follows its own circle. It makes the two locks of one wheel unequal.",
         see=("toe-out lock", "toe-in lock")),
    Term("articulation", "One wheel of an axle up while the other is down. Often the worst case "
         "for a live axle."),
    Term("aspect ratio", "Section height of a tyre over its nominal section width, in per cent: "
         "the 60 of 195/60 R15.", "UNR30", "2", see=("section height",)),
    Term("backspacing", "Distance from a wheel's mounting face to its inboard lip, measured with a "
         "straightedge across the lip. It contains the thickness of the flange.",
         see=("front spacing", "offset")),
    Term("barrel", "The inside of the rim, over the brake."),
    Term("bead seat", "The part of the rim on which the tyre's bead sits; rim diameter and width "
         "are taken there.", "ISO3911", "terms"),
    Term("bolt circle", "The circle through the centres of studs or bolts, written with their "
         "number: 4x118.", "UNR124", "2"),
    Term("bump", "Travel of the wheel up against the body.", "ISO8855", "suspension terms",
         see=("droop", "bump stop")),
    Term("bump stop", "Rubber or foam that ends bump travel. Trimming it lets the wheel rise "
         "further, and every gap above shrinks."),
    Term("camber", "Tilt of the wheel seen from the front or behind; positive with the top "
         "outboard.", "ISO8855", "7", see=("kingpin inclination",)),
    Term("caster", "Tilt of the steering axis seen from the side; positive with the top rearward. "
         "It moves the tyre fore and aft in the arch when steered.", "ISO8855", "7"),
    Term("centre bore", "The hole in the middle of a wheel.", see=("pilot",)),
    Term("centre plane", "The plane halfway between the inner faces of the two flanges. Offset is "
         "counted from it.", "ISO4000-2", "terms"),
    Term("date code", "Week and year in which a tyre was made: 0825 is week 8 of 2025.",
         "CFR574", "574.5"),
    Term("droop", "Travel of the wheel down from its standing height.", see=("bump",)),
    Term("effective offset", "Offset less the spacer: where the centre plane really stands "
         "against the hub face. Where a record tells offset and backspacing, both are weighed by "
         "how sure each is.",
         see=("offset", "backspacing", "spacer")),
    Term("engagement", "Length of thread that nut and stud, or bolt and hub, share. One diameter "
         "is the usual least for steel studs.", see=("turns",)),
    Term("flange", "The rim's edge that holds the tyre's bead. Its thickness lies outside the "
         "stamped width.", "ISO4000-2", "contours", see=("lip", "rim width")),
    Term("flag", "The guide's word for how sure a record or limit is, computed from the record "
         "and never declared."),
    Term("forge", "The site where the club keeps its files, and where a change of them is asked "
         "for and looked at."),
    Term("front spacing", "Distance from the mounting face to the outboard lip.",
         see=("backspacing",)),
    Term("full lock", "The steering turned as far as its stop allows, either way.",
         see=("toe-out lock", "toe-in lock")),
    Term("gap", "The least distance between tyre or wheel and a part of the car; minus is "
         "overlap."),
    Term("hub face", "The face of hub or brake disc that the wheel is bolted against; the zero of "
         "all distances across the car.", see=("mounting face",)),
    Term("inset", "An offset with the mounting face outboard of the centre plane; positive.",
         "UNR124", "2.6", see=("outset", "offset")),
    Term("kerb load", "Load of an axle with the car ready to drive and nobody in it.",
         "ISO612", "masses"),
    Term("kingpin inclination", "Tilt of the steering axis seen from the front; positive with the "
         "top inboard.", "ISO8855", "7", see=("scrub radius",)),
    Term("liner", "The plastic or felt shell inside a fender."),
    Term("lip", "Of a wheel: the outermost edge of its flange. Of a body: the turned-in edge of "
         "the wheel arch.", see=("flange", "rolled lip")),
    Term("live axle", "A rigid axle with the final drive in it: both wheels tilt together."),
    Term("load index", "A number on the tyre that stands for the load it may carry: 91 is 615 kg.",
         "UNR30", "annex 4"),
    Term("loaded radius", "Height of the wheel's centre above the road, standing.",
         "ETRTO", "design information"),
    Term("measuring rim", "The rim width at which a tyre's nominal section width holds.",
         "UNR30", "2", see=("section width",)),
    Term("motion ratio", "Travel at the stop or spring for one millimetre of travel at the wheel."),
    Term("mounting face", "The face of the wheel that bears on hub or spacer. That of the hub is "
         "called hub face here.",
         see=("hub face", "pad")),
    Term("offset", "Distance from a wheel's centre plane to its mounting face; positive when the "
         "face lies outboard of the plane (inset), negative when inboard (outset).",
         "UNR124", "2.6", see=("backspacing", "effective offset")),
    Term("outset", "An offset with the mounting face inboard of the centre plane; negative.",
         "UNR124", "2.6", see=("inset",)),
    Term("overall width", "Of a wheel: from lip to lip, so the stamped width and both flanges. Of "
         "a tyre: its section width with letters and protective ribs.", see=("rim width",)),
    Term("pad", "The part of a wheel between its mounting face and the nuts' seats."),
    Term("Panhard rod", "A rod from body to axle that holds a live axle sideways. Lowering the car "
         "moves the axle to one side.", see=("live axle", "Watt linkage")),
    Term("pilot", "The raised ring of the hub that centres the wheel by its bore; also called "
         "snout.",
         see=("centre bore",)),
    Term("pinch weld", "A seam of two or more sheets standing out, as behind a front wheel."),
    Term("poke", "How far the tyre's outboard face stands beyond the body's widest skin; minus is "
         "inside it."),
    Term("rim width", "Distance between the inner faces of the flanges: the width stamped on the "
         "wheel, in inches. The wheel is wider by both flanges.", "ISO4000-2", "designation",
         see=("overall width",)),
    Term("rolled lip", "A wheel-arch lip folded flat against the inside of the panel.",
         see=("lip",)),
    Term("rolling circumference", "Distance a tyre rolls in one turn.", "ETRTO",
         "design information"),
    Term("run-out", "How far a turning wheel's edge wanders, in or out (radial) and side to side "
         "(lateral)."),
    Term("scrub radius", "On the ground, from where the steering axis meets it to the middle of "
         "the tyre.", "ISO8855", "7"),
    Term("seat", "The surface in which nut or bolt meets the wheel: cone, ball, flat or shank. Nut "
         "and wheel must have the same."),
    Term("section height", "Half the difference between a tyre's overall diameter and that of its "
         "rim.", "UNR30", "2"),
    Term("section width", "Breadth of a mounted tyre between its sidewalls, without letters and "
         "ribs. It grows by 0.4 mm for each millimetre of rim.", "UNR30", "6.1.1.1"),
    Term("site", "A place on the car that a tyre or wheel can touch, with a name, a shape and the "
         "gap that is wanted there."),
    Term("spacer", "A plate between hub and wheel that moves the wheel outboard by its thickness.",
         see=("effective offset", "engagement")),
    Term("speed symbol", "The letter behind the load index for the greatest speed at that load.",
         "UNR30", "2"),
    Term("standard uncertainty", "The number after ±: about two results in three lie within it.",
         "GUM", "2.3.1"),
    Term("steering stop", "What ends the lock: a screw or lug on the knuckle, or the rack itself."),
    Term("strut tube", "The tube of a strut suspension beside the tyre. It steers and travels with "
         "the wheel, so that its gap never changes."),
    Term("sweep", "All positions a wheel can take: every travel with every steer. The least gap of "
         "a sweep often lies between the named positions."),
    Term("toe-in lock", "The front of this wheel turned inboard to the stop: the wheel on the "
         "outside of the turn.", see=("toe-out lock",)),
    Term("toe-out lock", "The front of this wheel turned outboard to the stop: the wheel on the "
         "inside of the turn.", see=("toe-in lock",)),
    Term("track", "Distance between the centre planes of the two tyres of an axle, on the ground.",
         "ISO612", "6.5"),
    Term("tread width", "Breadth of the part of a tyre that meets the road."),
    Term("turns", "How often a nut turns from first catch to seated; with the pitch it gives the "
         "engagement.", see=("engagement",)),
    Term("twist beam", "A rear axle of two arms and a beam that twists between them."),
    Term("unsprung mass", "Mass of what moves with the wheel, wheel and tyre included.",
         "ISO8855", "4"),
    Term("Watt linkage", "Two links and a centre arm that hold a live axle near the middle through "
         "all travel.", see=("Panhard rod",)),
    Term("wheel arch", "The opening of the body around a wheel; its inner skin is the wheelhouse."),
    Term("wheelhouse", "The inner skin of the wheel arch."),
)  # fmt: skip


def terms() -> tuple[Term, ...]:
    """Give all terms in order of their letters."""
    return tuple(sorted(TERMS, key=lambda term: term.name.lower()))
