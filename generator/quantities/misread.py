"""Text that could not be read: what is wrong, at which characters, and what to type instead."""

from dataclasses import dataclass


@dataclass(eq=False)
class Misread(ValueError):
    """A member's text that a reader of quantities or trade notation does not accept.

    `start` and `end` count characters of the scalar as typed, so that the caret falls on the wrong
    ones. `headline` says what is, `expected` what was wanted, `why` gives the reason with its
    source, `fix` is the text to type instead, and only that.
    """

    code: str
    headline: str
    start: int
    end: int
    expected: str
    why: str = ""
    fix: str = ""

    def __str__(self) -> str:
        return self.headline
