"""What is most worth measuring, for pages."""

from collections.abc import Iterable

from generator.evidence.worth import Measurement
from generator.frozen import dataclass
from generator.quantities.units import Probability, Ratio
from generator.site import urls
from generator.site.guide import Guide
from generator.site.shell import Link


@dataclass(frozen=True)
class WorthLine:
    """One gap worth measuring: where, how, and whose answer hangs on it."""

    chassis: Link
    axle: str
    label: str
    sides: tuple[str, ...]
    state: str
    tool: str
    setup: Link
    chance: Probability
    worth: Ratio
    why: str


def worth_lines(guide: Guide, found: Iterable[Measurement]) -> tuple[WorthLine, ...]:
    """Give the measurements in their order; sides that are worth the same come once."""
    together: dict[tuple[object, ...], list[Measurement]] = {}
    for each in found:
        alike = (each.chassis, each.key.axle, each.label, each.state, each.setup,
                 round(each.worth, 3))  # fmt: skip
        together.setdefault(alike, []).append(each)
    return tuple(_line(guide, alike) for alike in together.values())


def _line(guide: Guide, alike: list[Measurement]) -> WorthLine:
    first = alike[0]
    chassis = guide.library.chassis[first.chassis].value
    setup = guide.library.setups[first.setup].value
    return WorthLine(
        chassis=Link(chassis.name, urls.chassis(first.chassis)),
        axle=first.key.axle.value,
        label=first.label,
        sides=tuple(each.key.side.value for each in alike),
        state=first.state.value,
        tool=first.tool.value,
        setup=Link(setup.title, urls.setup(first.setup)),
        chance=first.chance,
        worth=first.worth,
        why=first.why,
    )
