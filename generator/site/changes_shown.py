"""What changes did and what would mend a site, for pages."""

from collections.abc import Iterable, Iterator

from generator.assessment.effects import Consequence, Effect, SiteChange
from generator.evidence.remedies import Remedy, SiteRemedies, Spoiled
from generator.frozen import dataclass
from generator.quantities.units import Deg, Mm, Probability
from generator.site.expected_shown import never_certain
from generator.site.facts import UNKNOWN, Fact, Kind, Shown
from generator.site.readings import named


@dataclass(frozen=True)
class EffectRow:
    """One change of a setup: how much, what it gained and cost, what else it moved."""

    change: str
    amount: Shown
    gained: tuple[Fact, ...]
    cost: tuple[Fact, ...]
    moved: tuple[Fact, ...]
    unknown: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True)
class RemedyRow:
    """One way to mend a site, and all that follows from it."""

    steps: tuple[str, ...]
    costs: tuple[str, ...]
    word: str
    chance: Probability | None
    mends: tuple[str, ...]
    spoils: tuple[str, ...]


@dataclass(frozen=True)
class RemediesShown:
    """A site that is not expected to clear, and what mends it; `told` where nothing does."""

    label: str
    word: str
    rows: tuple[RemedyRow, ...]
    told: str


def effect_rows(effects: Iterable[Effect], axle: str) -> tuple[EffectRow, ...]:
    """Give what each change at one end did."""
    return tuple(_effect(each) for each in effects if each.axle.value == axle)


def _effect(effect: Effect) -> EffectRow:
    amount = UNKNOWN if effect.amount is None else _measure(effect.amount, effect.unit)
    return EffectRow(
        change=effect.change,
        amount=amount,
        gained=tuple(_changes(effect.gained)),
        cost=tuple(_changes(effect.cost)),
        moved=tuple(_moved(each) for each in effect.consequences),
        unknown=effect.unknown,
        notes=effect.notes,
    )


def _measure(amount: Mm | Deg, unit: str) -> Shown:
    if unit == "mm":
        return Shown(Kind.LENGTH, amount, None, 1, is_signed=True)
    return Shown(Kind.QUANTITY, amount, None, 1, is_signed=True, unit="°")


def _changes(changes: tuple[SiteChange, ...]) -> Iterator[Fact]:
    """Give gaps gained or lost; sides with the same amount come once."""
    by_site: dict[tuple[str, Mm], list[SiteChange]] = {}
    for each in changes:
        by_site.setdefault((each.label, round(each.amount, 1)), []).append(each)
    for (label, _), alike in by_site.items():
        side = alike[0].side.value if len(alike) == 1 else "both"
        name = label if side == "both" else f"{label}, {side}"
        yield Fact(name, _measure(alike[0].amount, "mm"))


def _moved(consequence: Consequence) -> Fact:
    return Fact(consequence.words, _measure(consequence.amount, consequence.unit))


def remedies_shown(found: Iterable[SiteRemedies]) -> tuple[RemediesShown, ...]:
    """Give the remedies of sites, each with what it spoils."""
    return tuple(
        RemediesShown(
            named(each.site), each.word, tuple(_remedy(way) for way in each.remedies), each.told
        )
        for each in found
    )


def _remedy(remedy: Remedy) -> RemedyRow:
    checks = dict.fromkeys(f"{each.hazard}: {each.sentence}" for each in remedy.findings)
    return RemedyRow(
        steps=tuple(step.words for step in remedy.steps),
        costs=tuple(dict.fromkeys(step.costs for step in remedy.steps)),
        word=remedy.word,
        chance=never_certain(remedy.chance),
        mends=remedy.mends,
        spoils=(*_spoiled(remedy.spoils), *checks),
    )


def _spoiled(spoils: tuple[Spoiled, ...]) -> tuple[str, ...]:
    sides: dict[tuple[str, str, str], list[str]] = {}
    for each in spoils:
        sides.setdefault((each.label, each.before, each.after), []).append(each.side.value)
    return tuple(
        f"{label}{'' if len(found) > 1 else f', {found[0]}'}: {after}, was {before}"
        for (label, before, after), found in sides.items()
    )
