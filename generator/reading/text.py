"""Which characters members' text may hold, and how an odd one is named in a message."""

import unicodedata

_BIDI = frozenset("\u200e\u200f\u061c\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_INVISIBLE = frozenset("\u00ad\u034f\u115f\u1160\u17b4\u17b5\u180e\u200b\u200c\u200d\u2060\ufeff")
_LINE_BREAKS = frozenset("\u0085\u2028\u2029")
_TAGS = range(0xE0000, 0xE0080)


def first_forbidden(text: str, *, newlines: bool) -> int | None:
    """Find the first character that no text of the guide may hold; None if all may stand.

    Refused are controls, lone surrogates, line and paragraph separators, non-characters and tag
    characters: they break files, logs or drawings, or hide text from a reviewer.
    """
    # All that is refused is not printable, so printable text needs no second look.
    if (text.replace("\n", "") if newlines else text).isprintable():
        return None
    for at, sign in enumerate(text):
        if sign == "\n" and newlines:
            continue
        if is_forbidden(sign):
            return at
    return None


def is_forbidden(sign: str) -> bool:
    """Tell whether a character may stand nowhere in the guide."""
    code = ord(sign)
    return (
        unicodedata.category(sign) in ("Cc", "Cs")
        or sign in _LINE_BREAKS
        or code & 0xFFFE == 0xFFFE
        or 0xFDD0 <= code <= 0xFDEF
        or code in _TAGS
    )


def first_hidden(text: str) -> int | None:
    """Find the first character that changes the direction of text or cannot be seen."""
    if text.isascii():
        return None
    return next((at for at, sign in enumerate(text) if sign in _BIDI or sign in _INVISIBLE), None)


def is_stacked(sign: str) -> bool:
    """Tell whether a character is drawn on the one before it, as an accent is."""
    return unicodedata.category(sign) in ("Mn", "Me")


def has_bidi(text: str) -> bool:
    """Tell whether a text holds characters that turn its direction."""
    return any(sign in _BIDI for sign in text)


def scripts(text: str) -> frozenset[str]:
    """Give the scripts of the letters of a text, by the first word of their Unicode names."""
    found = set()
    for sign in text:
        if sign.isalpha():
            found.add(unicodedata.name(sign, "UNNAMED").split()[0].split("-")[0])
    return frozenset(found)


def named(thing: object) -> str:
    """Name a character by code point, or an exception by its kind, without showing it raw.

    >>> named(chr(27))
    'U+001B'
    """
    if isinstance(thing, str) and len(thing) == 1:
        name = unicodedata.name(thing, "")
        return f"U+{ord(thing):04X}{' ' + name.lower() if name else ''}"
    return f"the reader stopped ({type(thing).__name__})"


def shown(text: str, most: int = 80) -> str:
    r"""Give a text safe to print on one line: odd characters escaped, cut at `most` characters.

    >>> print(shown("a" + chr(10) + "b"))
    a\nb
    """
    safe = text[: most + 1]
    # Of what is ASCII, all that is printable stands as it is: nearly every text, at no cost.
    if not (safe.isascii() and safe.isprintable()):
        safe = "".join(map(_escaped, safe))
    return safe if len(safe) <= most else f"{safe[: most - 1]}…"


def _escaped(sign: str) -> str:
    if sign == "\n":
        return "\\n"
    if sign == "\t":
        return "\\t"
    if is_forbidden(sign) or sign in _BIDI or sign in _INVISIBLE:
        return f"\\u{ord(sign):04x}"
    return sign
