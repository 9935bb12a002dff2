"""A place in a text that is read from left to right, for the readers of trade notation.

Texts are short by rule, so a reader's work is bounded whatever was typed. Patterns are matched
without regard to case and in ASCII alone: a digit or letter of another script is not a digit here.
"""

import re
from functools import cache

from generator.quantities.misread import Explained, Misread

LONGEST_NOTATION = 60
"""Characters; the longest designation in use has about half as many."""


@cache
def _compiled(pattern: str) -> re.Pattern[str]:
    return re.compile(" *(?:" + pattern + ")", re.ASCII | re.IGNORECASE)


def readable(text: str, unknown: Explained, *, expected: str) -> str:
    """Give the text back if it is short enough to be read at all, else raise Misread."""
    if len(text) > LONGEST_NOTATION:
        headline = f"{len(text)} characters are too many for one designation"
        raise unknown.misread(headline, LONGEST_NOTATION, len(text), expected=expected)
    if not text.strip(" "):
        raise unknown.misread("nothing is written here", 0, len(text), expected=expected)
    return text


class Cursor:
    """Takes one pattern after another; spaces before a pattern are skipped."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0

    def take(self, pattern: str) -> re.Match[str] | None:
        """Step over the pattern if it stands here, and give its match."""
        match = _compiled(pattern).match(self.text, self.at)
        if match is not None:
            self.at = match.end()
        return match

    def sees(self, pattern: str) -> bool:
        """Say whether the pattern stands here, without stepping."""
        return _compiled(pattern).match(self.text, self.at) is not None

    @property
    def rest(self) -> str:
        """What is not read yet, without the spaces around it."""
        return self.text[self.at :].strip(" ")

    @property
    def here(self) -> int:
        """Where the next character that is not a space stands, or the last one of the text."""
        at = self.at
        while at < len(self.text) and self.text[at] == " ":
            at += 1
        return min(at, len(self.text) - 1)

    def unexpected(self, kind: Explained, *, expected: str, fix: str = "") -> Misread:
        """Make the error for the word that stands here, or for the end of the text."""
        word = self.rest.split(" ")[0]
        if not word:
            headline = f"`{self.text}` ends too early"
            return kind.misread(headline, self.here, len(self.text), expected=expected, fix=fix)
        headline = f"`{word}` is not understood here"
        return kind.misread(headline, self.here, self.here + len(word), expected=expected, fix=fix)


def number(digits: str) -> str:
    """Write a number the short way: 5.50 as 5.5, 4.0 as 4.

    >>> number("5.50")
    '5.5'
    """
    return f"{float(digits):g}"
