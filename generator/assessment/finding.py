"""What a check of one car's hardware, loads, brakes and parts tells the reader of a page."""

from enum import Enum

from generator.frozen import dataclass
from generator.geometry.bound import Check, Number
from generator.quantities.estimate import Estimate
from generator.records.words import Axle, Side


class Outcome(Enum):
    """How a check ended. The first three are those of `geometry.bound`.

    `STATED` is a number without a bound: it is told, and neither good nor bad.
    """

    HOLDS = "holds"
    TOO_CLOSE_TO_SAY = "too close to say"
    FAILS = "fails"
    NOT_KNOWN = "not known"
    STATED = "for information"


class Caution(Enum):
    """The kind of caution that belongs beside a finding."""

    JACKING = "jacking"
    SPRINGS = "springs"
    FASTENERS = "fasteners"
    SPACERS = "spacers"
    LOADS = "loads"
    CONTACT = "contact"
    CUTTING = "cutting"
    LAW = "law"


class Gravity(Enum):
    """What a hazard can do where its check fails."""

    DANGER = "do not drive"
    CARE = "put it right"
    NOTE = "know it"


@dataclass(frozen=True)
class Where:
    """The end and side of the car a finding is about; no axle: the whole car."""

    axle: Axle | None = None
    side: Side = Side.BOTH


@dataclass(frozen=True)
class Follows:
    """What follows where a check holds, and where it does not."""

    holds: str
    fails: str

    def after(self, outcome: Outcome, gravity: Gravity, *, known: str = "") -> str:
        """Give the words for an outcome; a danger that is too close to say counts as failing.

        `known` says how well the number is known.
        """
        if outcome is Outcome.HOLDS:
            return self.holds
        if outcome is not Outcome.TOO_CLOSE_TO_SAY:
            return self.fails
        if gravity is Gravity.DANGER:
            doubt = f"Known to {known}, it cannot be told" if known else "It cannot be told"
            return f"{doubt} from what is wanted, so it counts as failing. {self.fails}"
        return f"These measurements cannot tell. If better measurements fail: {self.fails}"


@dataclass(frozen=True)
class Finding:
    """One thing that a check found.

    `value`, its standard uncertainty `u` and `bound` are in `unit`; None where there is no number.
    `source` is the key of a published source, or says what the bound rests on. `follows` says in
    plain words what follows. `caution` is the kind of caution to show beside it, or None.
    """

    code: str
    hazard: str
    axle: Axle | None
    outcome: Outcome
    sentence: str
    value: Number | None
    u: Number | None
    bound: Number | None
    unit: str
    source: str
    follows: str
    caution: Caution | None
    side: Side = Side.BOTH


@dataclass(frozen=True)
class _Numbers:
    value: Number | None
    u: Number | None
    bound: Number | None
    unit: str


_NO_NUMBERS = _Numbers(None, None, None, "")


@dataclass(frozen=True)
class Hazard:
    """Something that can go wrong: code, title, why it matters, where its bound comes from."""

    code: str
    title: str
    why: str
    source: str
    gravity: Gravity
    caution: Caution | None = None

    def checked(
        self, where: Where, check: Check, unit: str, *, sentence: str, follows: Follows
    ) -> Finding:
        """Tell a number held against its bound; the kernel's check decides the outcome."""
        outcome = Outcome(check.outcome.value)
        return self._finding(
            where,
            outcome,
            sentence=sentence,
            numbers=_Numbers(check.value, check.u, check.bound, unit),
            source=check.source,
            follows=follows.after(outcome, self.gravity, known=f"±{check.u:.2g} {unit}".rstrip()),
        )

    def judged(self, where: Where, *, holds: bool, sentence: str, follows: Follows) -> Finding:
        """Tell a comparison without numbers."""
        outcome = Outcome.HOLDS if holds else Outcome.FAILS
        words = follows.after(outcome, self.gravity)
        return self._finding(where, outcome, sentence=sentence, follows=words)

    def stated(
        self, where: Where, value: Estimate | Number, unit: str, *, sentence: str, follows: str
    ) -> Finding:
        """Tell a number that no bound is known for."""
        number, u = (value.value, value.u) if isinstance(value, Estimate) else (value, 0.0)
        numbers = _Numbers(number, u, None, unit)
        return self._finding(
            where, Outcome.STATED, sentence=sentence, follows=follows, numbers=numbers
        )

    def not_known(self, where: Where, sentence: str, *, measure: str) -> Finding:
        """Tell what cannot be said, and what to measure so that it can."""
        return self._finding(where, Outcome.NOT_KNOWN, sentence=sentence, follows=measure)

    def _finding(
        self,
        where: Where,
        outcome: Outcome,
        *,
        sentence: str,
        follows: str,
        numbers: _Numbers | None = None,
        source: str = "",
    ) -> Finding:
        numbers = numbers or _NO_NUMBERS
        return Finding(
            code=self.code,
            hazard=self.title,
            axle=where.axle,
            outcome=outcome,
            sentence=sentence,
            value=numbers.value,
            u=numbers.u,
            bound=numbers.bound,
            unit=numbers.unit,
            source=source or self.source,
            follows=follows,
            caution=self.caution,
            side=where.side,
        )
