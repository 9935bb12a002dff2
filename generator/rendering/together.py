"""What a line must not break: a number and its unit, a size, a short compound, a short command.

Only what is shown is touched, and only by markup around it: its text stays as it was typed, so
that it can be found and copied. What is kept together is short, since it cannot break on the
narrowest screen either.
"""

import re
from collections.abc import Iterator
from typing import Final

from markupsafe import Markup, escape

from generator.quantities.units import BY_SPELLING

_LONGEST_CODE: Final = 24
_SPELLED: Final = "|".join(
    re.escape(each) for each in sorted(BY_SPELLING, key=lambda each: (-len(each), each))
)
_SAID: Final = "%|\u00b0C|km/h|kN|MPa|mm\u00b2"
"""Units that articles speak of and records never hold."""
_NUMBER: Final = r"(?:\d{1,4}[ ])?(?:[+\-\u2212]|\u00b1[ \n]?)?\d{1,6}(?:[./]\d{1,6})?"
_KEPT: Final = re.compile(
    r"(?<![\w.,/\-])(?:"
    # a tyre's size, a rim's, a thread, a number with its unit or its doubt, a day, and words joined
    # by a hyphen
    r"\d{3}/\d{2}[ ]?Z?R[ ]?\d{2}(?:[ ]\d{2,3}[A-Z])?"
    r"|\d{1,2}(?:\.\d{1,2})?(?:[ ]?JJ?)?[ ]?[x\u00d7][ ]?\d{2}"
    r"|M\d{1,2}[ ]?[x\u00d7][ ]?\d(?:\.\d{1,2})?"
    rf"|{_NUMBER}[ \n](?:{_SPELLED}|{_SAID})"
    r"|\u00b1[ \n]?\d{1,6}(?:\.\d{1,6})?"
    r"|\d{1,2} [A-Z][a-z]{2,8} \d{4}|\d{1,3}-[A-Za-z]{2,6}"
    r"|(?:\d{1,2}\u00b0 )?[A-Za-z]{1,3}-[A-Za-z]{1,8}|[A-Za-z]{1,8}-[A-Za-z]{1,3}"
    r")(?![\w\-])"
)
_AROUND: Final = Markup('<span class="together">{}</span>')


def together(text: str) -> Markup:
    """Escape a text, and keep together in it what a line must not break.

    >>> str(together("toe-out by 12 mm & more"))
    '<span class="together">toe-out</span> by <span class="together">12 mm</span> &amp; more'
    """
    return Markup("").join(_parts(text))


def code(text: str) -> Markup:
    """Show a word to type; a short one stays on one line.

    >>> str(code("gapbook try"))
    '<code class="together">gapbook try</code>'
    """
    if len(text) > _LONGEST_CODE or " " not in text:
        return Markup("<code>{}</code>").format(text)
    return Markup('<code class="together">{}</code>').format(text)


def ticked(text: str) -> Markup:
    """Show what a message sets in backticks as code; all of it is escaped.

    >>> str(ticked("write `7mm` & go"))
    'write <code>7mm</code> &amp; go'
    """
    parts = text.split("`")
    if len(parts) % 2 == 0:
        return together(text)
    return Markup("").join(
        code(part) if at % 2 else together(part) for at, part in enumerate(parts)
    )


def _parts(text: str) -> Iterator[Markup]:
    end = 0
    for each in _KEPT.finditer(text):
        yield escape(text[end : each.start()])
        yield _AROUND.format(each.group())
        end = each.end()
    yield escape(text[end:])
