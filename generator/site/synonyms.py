"""Words that members use for one thing, and how text is made alike before words are sought in it.

templates/scripts/words.js makes a reader's words alike in the same way.
"""

import re
import unicodedata

SYNONYMS = (
    ("fender", "wing", "front wing"),
    ("quarter panel", "rear wing", "rear fender"),
    ("tyre", "tire"),
    ("wheel", "rim"),
    ("backspacing", "back space", "backspace"),
    ("offset", "inset", "et"),
    ("spacer", "shim", "adapter"),
    ("rub", "touch", "touches", "contact", "foul", "scrape"),
    ("lip", "arch", "wheel arch"),
    ("liner", "splash guard"),
    ("wheelhouse", "wheel house", "wheel well", "inner arch"),
    ("damper", "shock", "shock absorber"),
    ("strut", "leg"),
    ("lowered", "dropped", "low"),
    ("anti-roll bar", "sway bar", "stabiliser", "stabilizer"),
    ("lateral rod", "panhard"),
    ("bump stop", "bumpstop", "buffer"),
    ("hood", "bonnet"),
    ("trunk", "boot"),
    ("stud", "wheel stud"),
    ("pilot", "snout"),
    ("hub face", "mounting face"),
    ("bolt circle", "pitch circle", "pcd", "stud pattern", "bolt pattern"),
    ("centre", "center"),
    ("aluminium", "aluminum", "alloy"),
    ("caliper", "calliper"),
    ("autocross", "slalom"),
    ("hill climb", "hillclimb"),
)
"""Each row means one thing: who writes one of its words finds all of them."""

_NOT_A_WORD = re.compile(r"[^\w.]|_|\.(?!\d)")


def alike(text: str) -> str:
    """Make text alike: small letters without marks, one blank between words, one at its head.

    A point stays inside a number. Every word begins after a blank, so that the beginning of a word
    can be sought as a blank and its letters.

    >>> alike("Tyre: 205/60 R15, 7.5×15 – Écru.")
    ' tyre 205 60 r15 7.5x15 ecru'
    """
    plain = unicodedata.normalize("NFKD", text.replace("×", "x")).lower()
    bare = "".join(sign for sign in plain if not unicodedata.combining(sign))
    return " " + " ".join(_NOT_A_WORD.sub(" ", bare).split())


def synonym_groups() -> tuple[tuple[str, ...], ...]:
    """Give the groups of synonyms, each phrase made alike."""
    return tuple(tuple(alike(phrase).strip() for phrase in group) for group in SYNONYMS)
