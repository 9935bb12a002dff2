"""What a mock-up sheet asks for: the states of the wheel in order, and where to look in each.

States and their order are common practice: from harmless to tight, each end, each side. Expected
gaps are those of the stock wheel and tyre on the chassis sheet, so that a reader can see whether
the car at hand is like the sheet before a new wheel is judged by it.
"""

from collections.abc import Iterator
from dataclasses import replace
from math import inf

from generator.assessment.assess import sides
from generator.assessment.clearances import Clearance, Mounted
from generator.assessment.fit import stock_fit
from generator.assessment.measuring import clearances
from generator.frozen import dataclass
from generator.geometry.travel import State
from generator.quantities.units import Mm
from generator.records.axle_sheet import AxleSheet
from generator.records.chassis import Chassis
from generator.records.words import Axle, Location, Part, SuspensionKind
from generator.site.facts import UNKNOWN, Shown, estimated, given

NEAR: Mm = 20.0
"""A site is looked at in a state that comes this close to its tightest one: what a wider wheel
and another car can move it by (common practice)."""
HOSE_WORDS = ("hose", "wire", "line", "cable")


@dataclass(frozen=True)
class SiteRow:
    """One site in one state: `pose` says where the least gap lies, for a sweep.

    `near` tells whether it comes close there on the stock wheels; None is to be looked at whatever
    is fitted. `is_first` tells the row, among those to look at on the stock wheels, that first
    names the site.
    """

    site: str
    label: str
    only: str
    wanted: Shown
    stock: Shown
    pose: str
    caution: str
    near: bool | None = None
    is_first: bool = False
    is_as_before: bool = False
    """Whether an earlier step told the same of it, so that it need only be looked at again."""

    @property
    def is_asked(self) -> bool:
        """Tell whether it is to be looked at on the stock wheels."""
        return self.near is not False


@dataclass(frozen=True)
class Step:
    """One state of the wheel at one end of the car, with the sites to look at.

    `states` are the words of the named states that it is made of; a sweep has all of them.
    """

    number: int
    title: str
    how: str
    rows: tuple[SiteRow, ...]
    states: tuple[str, ...] = ()
    is_sweep: bool = False


@dataclass(frozen=True)
class EndSteps:
    """All states of one end of the car, in the order of the work."""

    axle: str
    suspension: str
    steps: tuple[Step, ...]
    unknown: str


@dataclass(frozen=True)
class _Asked:
    """A state to be looked at: one of the named ones, or words and the whole sweep."""

    title: str
    how: str
    states: tuple[State, ...] = ()
    is_fixed: bool = False
    is_sweep: bool = False
    looks_at: Part | None = None
    """What its words send a reader to: such sites are looked at however far away they are."""


_STANDING = _Asked(
    "Standing, straight ahead, as the car is driven",
    "Driver's weight aboard, half a tank, tyres at riding pressure. Parts that move with the wheel "
    "are measured here once: their gap is the same in every state.",
    (State.STATIC,),
    is_fixed=True,
)
_DROOP = _Asked(
    "Full droop",
    "The damper open to its end, or a strap of its open length; the hose takes no weight.",
    (State.FULL_DROOP,),
)
_LOCKS = _Asked(
    "Both locks at standing height",
    "By hand, engine off, to the stop and no further: toe-out lock, then toe-in lock.",
    (State.TOE_OUT_AT_STATIC, State.TOE_IN_AT_STATIC),
)
_LOCKS_DROOP = _Asked(
    "Both locks at full droop",
    "Look at every hose and wire before the wheel is turned.",
    (State.TOE_OUT_AT_DROOP, State.TOE_IN_AT_DROOP),
)
_LOCKS_BUMP = _Asked(
    "Both locks, first at half of bump, then at two thirds",
    "Where road and track really meet lock.",
    (State.TOE_OUT_AT_BUMP, State.TOE_IN_AT_BUMP),
)
_BUMP = _Asked(
    "Full bump, straight ahead",
    "On the stop that will be driven, squeezed as the jack can. Stop when the body just stirs.",
    (State.FULL_BUMP,),
)
_SWEEP = _Asked(
    "Slow sweep through everything",
    "Lock to lock at each height, and about 10° each way at full bump. Clay on the site gives the "
    "least gap of the whole movement; the position named is where the sheet expects it.",
    is_sweep=True,
)
_TRAVEL = _Asked(
    "Slow travel through everything",
    "From droop to bump and back. Clay on the site gives the least gap of the whole movement; the "
    "position named is where the sheet expects it.",
    is_sweep=True,
)
_UP = _Asked(
    "This side up, the other down",
    "Then swapped. The tyre's top leans in on the side that is up.",
    (State.THIS_SIDE_UP,),
)
_DOWN = _Asked(
    "This side down, the other up",
    "The tyre's top leans out on the side that is down: look at the lip.",
    (State.THIS_SIDE_DOWN,),
    looks_at=Part.LIP,
)
_ROD = _Asked(
    "The axle up and down in parallel",
    "A Panhard rod walks the axle sideways: measure tyre to frame rail on both sides, not to the "
    "lips. Half the difference is the correction.",
    (State.FULL_BUMP, State.FULL_DROOP),
)
_LINKS = _Asked(
    "Anti-roll bar links back on, one side up",
    "Then the other. The bar stands elsewhere with its links on.",
)
_PULL = _Asked(
    "Pulled sideways by a strap, straight ahead",
    "Every place that was close so far; bushes and the tyre's carcass give way as in a corner.",
)
_WIND_UP = _Asked(
    "Leaf springs wound up",
    "A strap that turns the axle: it moves fore and aft and tips. Look at arch and spring eye.",
)
_OTHER_STOP = _Asked(
    "Once more with the trimmed or changed stop",
    "Each stop is its own set of readings; only if one will be driven that differs.",
    (State.FULL_BUMP,),
)


def mock_up(chassis: Chassis) -> tuple[EndSteps, ...]:
    """Give the states of both ends of a car, numbered through, front first."""
    first = 1
    found = []
    for axle in Axle:
        end = _end(chassis, axle, first)
        first += len(end.steps)
        found.append(end)
    return tuple(found)


def _end(chassis: Chassis, axle: Axle, first: int) -> EndSteps:
    sheet = chassis.front if axle is Axle.FRONT else chassis.rear
    stock = stock_fit(sheet)
    mounted = Mounted(stock, sheet.stock_wheel.size)
    # An axle on a rod stands otherwise on its two sides: the weaker one counts.
    looks = [
        clearances(chassis, axle, side, mounted=mounted, stock=stock) for side in sides(None, sheet)
    ]
    found = tuple(
        tuple(each for look in looks for each in look if each.site.name == site.name)
        for site in chassis.sites
        if site.axle is axle
    )
    steps = tuple(_steps(axle, sheet, found, first))
    kind = sheet.suspension.kind.value
    told = sheet.suspension.description or ""
    why = "" if found else "The sheet names no sites here: write down every place that comes close."
    return EndSteps(axle.value, f"{kind}: {told}" if told else kind, steps, why)


def _steps(
    axle: Axle, sheet: AxleSheet, found: tuple[tuple[Clearance, ...], ...], first: int
) -> Iterator[Step]:
    """Give the steps of one end; what must be said of a site is said where it first stands."""
    told: set[str] = set()
    seen: set[tuple[str, str, Shown]] = set()
    for number, asked in enumerate(_asked(axle, sheet), first):
        rows = tuple(
            replace(
                row,
                is_first=row.is_asked and row.label not in told,
                is_as_before=(row.label, row.pose, row.stock) in seen,
            )
            for row in _rows(asked, found)
        )
        told |= {row.label for row in rows if row.is_asked}
        seen |= {(row.label, row.pose, row.stock) for row in rows if row.is_asked}
        states = tuple(state.value for state in asked.states)
        yield Step(number, asked.title, asked.how, rows, states, asked.is_sweep)


def _asked(axle: Axle, sheet: AxleSheet) -> Iterator[_Asked]:
    """Give the states of one end, from harmless to tight."""
    suspension = sheet.suspension
    steers = axle is Axle.FRONT
    yield _STANDING
    yield _DROOP
    if steers:
        yield from (_LOCKS, _LOCKS_DROOP, _LOCKS_BUMP)
    yield _BUMP
    if suspension.location is Location.PANHARD:
        yield _ROD
    if suspension.kind in (SuspensionKind.LIVE_AXLE, SuspensionKind.TWIST_BEAM):
        yield from (_UP, _DOWN)
    yield _SWEEP if steers else _TRAVEL
    if suspension.location is Location.LEAF:
        yield _WIND_UP
    yield from (_PULL, _LINKS, _OTHER_STOP)


def _rows(asked: _Asked, found: tuple[tuple[Clearance, ...], ...]) -> Iterator[SiteRow]:
    """Give the sites of a state, each once, with the gap of its weaker side."""
    for looks in found:
        rows = [row for row in (_seen(asked, each) for each in looks) if row is not None]
        if rows:
            weaker = min(rows, key=lambda row: -inf if row.stock.value is None else row.stock.value)
            nears = {row.near for row in rows}
            yield replace(weaker, near=None if None in nears else True in nears)


def _seen(asked: _Asked, clearance: Clearance) -> SiteRow | None:
    """Give a site on one side in a state; a site that is not known is in all of them."""
    if clearance.least is None:
        is_asked = asked.states or asked.is_sweep
        return _row(clearance, UNKNOWN, "not known: " + clearance.unknown) if is_asked else None
    if asked.is_sweep:
        least = clearance.least
        return _row(clearance, estimated(least.gap), least.words) if clearance.moves else None
    if clearance.moves:
        return _moving(asked, clearance)
    is_asked = asked.is_fixed or (asked.states and _is_hose(clearance))
    return _row(clearance, estimated(clearance.static), "") if is_asked else None


def _moving(asked: _Asked, clearance: Clearance) -> SiteRow | None:
    """Give a moving site, and whether one of the states asked for comes near its tightest."""
    names = [state.value for state in asked.states]
    here = [at for at in clearance.states if at.words in names]
    if not here:
        return None
    tightest = min(at.gap.value for at in clearance.states)
    least = min(here, key=lambda at: at.gap.value)
    is_near = least.gap.value <= max(tightest + NEAR, clearance.wanted + NEAR)
    is_sent_to = asked.looks_at is not None and clearance.site.part is asked.looks_at
    is_always = asked.is_fixed or is_sent_to or _is_hose(clearance)
    pose = least.words.split(" at ")[0] if len(here) > 1 else ""
    return _row(clearance, estimated(least.gap), pose, near=None if is_always else is_near)


def _is_hose(clearance: Clearance) -> bool:
    return any(word in clearance.site.label.lower().split() for word in HOSE_WORDS)


def _row(clearance: Clearance, stock: Shown, pose: str, *, near: bool | None = None) -> SiteRow:
    site = clearance.site
    return SiteRow(
        site=site.name,
        label=site.label,
        only=site.only.value if site.only else "",
        wanted=given(site.wanted),
        stock=stock,
        pose=pose,
        caution=site.caution or "",
        near=near,
    )
