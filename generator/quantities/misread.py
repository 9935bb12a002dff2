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


@dataclass(frozen=True)
class Explained:
    """What one fault code means: for `gapbook why`, for the gallery of faults, and for the tests.

    `why` says what it is and what it is for, `mend` what to do. `bad` is a text that earns the
    code, `good` the same text mended.
    """

    code: str
    title: str
    why: str
    mend: str
    bad: str
    good: str

    def misread(
        self, headline: str, start: int, end: int, *, expected: str, fix: str = ""
    ) -> Misread:
        """Make the error for the characters from `start` up to `end`, at least one of them."""
        return Misread(self.code, headline, start, max(end, start + 1), expected, self.why, fix)
