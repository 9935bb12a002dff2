"""What the next car may expect of each setup: which verdicts flip, which chances move."""

from generator.evidence.verdict import SiteVerdict, Verdict
from generator.frozen import dataclass
from generator.quantities.units import Probability
from generator.review.edition import Edition

SEEN: Probability = 0.005
"""Chances are shown in whole per cent."""
_GRAVEST = ("touches", "not known", "tight", "clears")

_Site = tuple[str, str, str]


@dataclass(frozen=True)
class Flip:
    """A verdict whose word changed: of one site, or of the whole setup (site and side empty)."""

    setup: str
    axle: str
    label: str
    side: str
    old: str
    new: str
    is_own: bool
    """Whether the setup's own record changed."""

    @property
    def is_worse(self) -> bool:
        """Whether a reader is told something graver than before."""
        return _GRAVEST.index(self.new) < _GRAVEST.index(self.old)


@dataclass(frozen=True)
class ChanceMove:
    """The chance that all sites of a setup clear, before and after; None is not known."""

    setup: str
    old: Probability | None
    new: Probability | None

    @property
    def size(self) -> Probability:
        """How far it moved; one that came to be known or ceased to be counts most."""
        return abs(self.new - self.old) if self.old is not None and self.new is not None else 1.0


def word(verdict: Verdict) -> str:
    """Give the gravest word of all sites of a setup."""
    words = {site.word for axle in verdict.axles() for site in axle.sites}
    return next((each for each in _GRAVEST if each in words), "not known")


def flips(old: Edition, new: Edition) -> tuple[Flip, ...]:
    """Give the verdicts whose word changed: worse ones first, whole setups before sites."""
    found: list[Flip] = []
    for setup, before, after in _both(old, new):
        is_own = old.setups()[setup].source.text != new.setups()[setup].source.text
        if word(before) != word(after):
            found.append(Flip(setup, "", "", "", word(before), word(after), is_own))
        then, now = _sites(before), _sites(after)
        for site in sorted(then.keys() & now.keys()):
            first, second = then[site], now[site]
            if first.word != second.word:
                label = second.clearance.site.label
                axle, _, side = site
                found.append(Flip(setup, axle, label, side, first.word, second.word, is_own))
    return tuple(sorted(found, key=_rank))


def chance_moves(old: Edition, new: Edition) -> tuple[ChanceMove, ...]:
    """Give the chances that moved by what a reader can see, the largest move first."""
    moves = [
        ChanceMove(setup, before.chance, after.chance)
        for setup, before, after in _both(old, new)
        if before.chance != after.chance
    ]
    seen = [move for move in moves if move.size >= SEEN]
    return tuple(sorted(seen, key=lambda each: (-each.size, each.setup)))


def _both(old: Edition, new: Edition) -> list[tuple[str, Verdict, Verdict]]:
    if old.guide is None or new.guide is None:
        return []
    before, after = old.guide.verdicts, new.guide.verdicts
    return [(name, before[name], after[name]) for name in sorted(before.keys() & after.keys())]


def _sites(verdict: Verdict) -> dict[_Site, SiteVerdict]:
    return {
        (axle.axle.value, site.clearance.site.name, site.side.value): site
        for axle in verdict.axles()
        for site in axle.sites
    }


def _rank(flip: Flip) -> tuple[bool, int, bool, str, str, str]:
    is_site = bool(flip.label)
    return (
        not flip.is_worse, _GRAVEST.index(flip.new), is_site, flip.setup, flip.label, flip.side,
    )  # fmt: skip
