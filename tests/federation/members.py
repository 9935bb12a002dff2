"""Members of a federation: what they own, how they measure, and in which units they write."""

from dataclasses import dataclass
from random import Random

INCH = 25.4
_FIRST = (
    "Amber", "Ashen", "Barley", "Bitter", "Bramble", "Brass", "Briar", "Broken", "Candle",
    "Chalk", "Cinder", "Clover", "Copper", "Crooked", "Damson", "Distant", "Dusty", "Early",
    "Elder", "Fallow", "Feather", "Fern", "Flint", "Garnet", "Ginger", "Hasty", "Hazel",
    "Heather", "Hollow", "Ivory", "Juniper", "Kettle", "Lantern", "Late", "Linen", "Little",
    "Marble", "Mellow", "Misty", "Mossy", "Nettle", "Oaken", "Olive", "Pewter", "Plain", "Quiet",
    "Ragged", "Rowan", "Rusty", "Saffron", "Silent", "Sleepy", "Slate", "Sorrel", "Tallow",
    "Teasel", "Thistle", "Velvet", "Willow", "Winter",
)  # fmt: skip
_SECOND = (
    "Anvil", "Badger", "Barrel", "Beacon", "Bellows", "Bobbin", "Bracket", "Bucket", "Bunting",
    "Cobble", "Cooper", "Cricket", "Curlew", "Dormouse", "Drum", "Ferret", "Finch", "Gable",
    "Gander", "Gantry", "Gimlet", "Goose", "Gudgeon", "Hammer", "Harrow", "Heron", "Hinge",
    "Hopper", "Jackdaw", "Kestrel", "Ladle", "Lapwing", "Latch", "Linnet", "Magpie", "Mallet",
    "Marten", "Mitten", "Otter", "Pebble", "Pippin", "Plover", "Pulley", "Quill", "Rafter",
    "Raven", "Shovel", "Siskin", "Sparrow", "Spindle", "Stoat", "Swallow", "Thimble", "Trowel",
    "Turnip", "Walnut", "Weasel", "Whistle", "Wicket", "Wren",
)  # fmt: skip
_THIRD = (
    "", " Lane", " Yard", " End", " Mill", " Row", " Hill", " Gate", " Green", " Bridge", " Barn",
    " Corner", " Field", " Ford", " Wharf", " Steps", " Court", " Cross", " Top", " Side",
)  # fmt: skip
_STRIDE = 7919
"""A prime that divides no number of names: neighbours in number are not neighbours in name."""

TOOL_SPREAD = {
    "feeler gauge": 0.5, "drill shank": 0.5, "calipers": 0.5, "wedge gauge": 1.0, "clay": 1.0,
    "foam block": 1.5, "steel rule": 1.7, "tape witness": 2.0, "by eye": 4.0, "photograph": 5.0,
    "from memory": 6.0,
}  # fmt: skip
"""One sigma of a reading by a careful member, mm: common practice of the trade."""
FINE = ("feeler gauge", "drill shank", "calipers")
PLAIN = ("clay", "clay", "wedge gauge", "steel rule", "steel rule", "foam block", "tape witness")
POOR = ("by eye", "photograph", "from memory")


@dataclass(frozen=True)
class Member:
    """One member and their habits."""

    name: str
    units: str
    """metric, inch or mixed: gaps in mm and wheels in inches."""
    care: float
    """Their readings spread so many times as much as a tool's."""
    slips: float
    """Share of their entries that are plainly wrong."""
    thorough: float
    """Share of the sites they look at."""
    each_side: bool
    measures_tyres: bool
    springs_out: bool
    fine_tool: str
    plain_tool: str
    poor_tools: float
    """Share of entries with no better tool than the eye."""

    @property
    def slug(self) -> str:
        """Their name in a file's name."""
        return self.name.lower().replace(" ", "-")

    def gap(self, millimetres: float, tool: str) -> str:
        """Write a gap as this member would."""
        if self.units != "inch":
            step = 0.5 if tool in FINE else 1.0
            return f"{max(step, round(millimetres / step) * step):g} mm"
        if tool == "steel rule":
            return _sixteenths(millimetres)
        if tool in FINE and millimetres < 8.0:
            return f"{round(millimetres / INCH * 200) * 5} thou"
        return f"{max(0.02, millimetres / INCH):.2f} in"

    def length(self, millimetres: float, step: float = 0.5) -> str:
        """Write a length of wheel or tyre, as read to a step in mm or a hundredth of an inch."""
        if self.units == "metric":
            return f"{round(millimetres / step) * step:g} mm"
        return f"{millimetres / INCH:.2f} in"

    def mass(self, kilograms: float) -> str:
        """Write a mass."""
        return f"{kilograms / 0.45359237:.1f} lb" if self.units == "inch" else f"{kilograms:.3g} kg"

    def pressure(self, bar: float) -> str:
        """Write a pressure."""
        return f"{round(bar * 14.503774)} psi" if self.units == "inch" else f"{bar:.1f} bar"

    def torque(self, newton_metres: float) -> str:
        """Write a torque."""
        if self.units == "inch":
            return f"{round(newton_metres / 1.3558179)} lb ft"
        return f"{newton_metres:g} N·m"

    def distance(self, kilometres: float) -> str:
        """Write a distance driven."""
        if self.units == "inch":
            return f"{max(1, round(kilometres / 1.609344))} miles"
        return f"{round(kilometres)} km"


def _sixteenths(millimetres: float) -> str:
    above, below = max(1, round(16.0 * millimetres / INCH)), 16
    if above >= below:
        return f"{above / below:.2f} in"
    while above % 2 == 0:
        above, below = above // 2, below // 2
    return f"{above}/{below} in"


def member(number: int, random: Random) -> Member:
    """Make a member; the number makes the name their own."""
    count = len(_FIRST) * len(_SECOND) * len(_THIRD)
    place = number * _STRIDE % count
    first, rest = place % len(_FIRST), place // len(_FIRST)
    second, third = rest % len(_SECOND), rest // len(_SECOND)
    return Member(
        name=f"{_FIRST[first]} {_SECOND[second]}{_THIRD[third]}",
        units=random.choices(("metric", "inch", "mixed"), (6, 3, 1))[0],
        care=random.uniform(0.7, 1.3),
        slips=random.choice((0.0, 0.0, 0.01, 0.02, 0.06)),
        thorough=random.uniform(0.35, 0.95),
        each_side=random.random() < 0.35,
        measures_tyres=random.random() < 0.7,
        springs_out=random.random() < 0.6,
        fine_tool=random.choice(FINE),
        plain_tool=random.choice(PLAIN),
        poor_tools=random.choice((0.0, 0.0, 0.05, 0.15)),
    )
