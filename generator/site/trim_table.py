"""What was trimmed at which width of wheel, for the page of a chassis."""

from generator.frozen import dataclass
from generator.records.chassis import Chassis
from generator.records.library import Filed
from generator.records.words import Axle
from generator.site.guide import Guide
from generator.site.lifecycle import has_lapsed, replaced_by
from generator.site.trims import trims


@dataclass(frozen=True)
class TrimLine:
    """Wheels of one width at one end: how many setups, and what was done how often."""

    axle: str
    width: str
    setups: int
    untouched: int
    trims: tuple[tuple[str, int], ...]


def trim_lines(guide: Guide, chassis: Filed[Chassis]) -> tuple[TrimLine, ...]:
    """Give what members did at each end by the width of their wheels, of the setups that count."""
    found: dict[tuple[str, float], list[tuple[str, ...]]] = {}
    sites = {(site.axle, site.name): site for site in chassis.value.sites}
    replaced = replaced_by(guide.library)
    for filed in guide.setups_of(chassis.id):
        if has_lapsed(filed, replaced):
            continue
        for axle, fitted in ((Axle.FRONT, filed.value.front), (Axle.REAR, filed.value.rear)):
            key = (axle.value, fitted.wheel.size.width_code)
            done = tuple(dict.fromkeys(each.words for each in trims(filed.value, axle, sites)))
            found.setdefault(key, []).append(done)
    return tuple(
        TrimLine(axle, f"{width:g} in", len(setups), setups.count(()), _counted(setups))
        for (axle, width), setups in sorted(found.items())
    )


def _counted(setups: list[tuple[str, ...]]) -> tuple[tuple[str, int], ...]:
    words = {each for done in setups for each in done}
    counts = [(each, sum(each in done for done in setups)) for each in words]
    return tuple(sorted(counts, key=lambda each: (-each[1], each[0])))
