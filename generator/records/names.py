"""When two names look the same to a reader, and which known name a slip was meant to be."""

import unicodedata
from collections.abc import Iterable
from difflib import get_close_matches

_LIKENESS = 0.6


def folded(name: str) -> str:
    """Give what is left of a name when case, width, blanks and punctuation do not count.

    A name of nothing but punctuation stays as it is.

    >>> folded("Ostvane  Meridel") == folded("OSTVANE-MERIDEL")
    True
    """
    plain = unicodedata.normalize("NFKC", name).casefold()
    letters = "".join(sign for sign in plain if sign.isalnum())
    return letters or plain


def nearest(name: str, known: Iterable[str]) -> str | None:
    """Give the known name that is most like a name; None where none is like it.

    >>> nearest("strut-tub", ("fender-lip", "strut-tube"))
    'strut-tube'
    """
    near = get_close_matches(name, sorted(set(known)), 1, _LIKENESS)
    return near[0] if near else None


def one_of(known: Iterable[str], most: int = 12) -> str:
    """Write known names as a list for a message, cut where it grows too long.

    >>> one_of(("b", "a"))
    'one of `a`, `b`'
    """
    names = sorted(set(known))
    told = ", ".join(f"`{name}`" for name in names[:most])
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return f"one of {told}{more}" if names else ""


def named_list(names: Iterable[str]) -> str:
    """Write the names of sites in one line: they may hold commas, so that semicolons part them.

    >>> named_list(("toe link, outer joint", "brake hose"))
    'toe link, outer joint; brake hose'
    """
    return "; ".join(names)


def expecting(name: str, known: Iterable[str]) -> tuple[str, str | None]:
    """Give what a message says was expected, and the nearest known name where one is near."""
    names = tuple(known)
    near = nearest(name, names)
    return (f"perhaps `{near}`" if near else one_of(names)), near
