"""What stops the guide altogether: one line for the person at the keyboard, and exit status 2."""


class GuideError(Exception):
    """The guide cannot go on; the text is one line, and no fault of a member's record."""


def shown(text: str) -> str:
    r"""Give text that is safe to print on one line, whatever a file name holds.

    >>> shown("a\nb\x1b[31m")
    'a\\nb\\x1b[31m'
    """
    return "".join(
        sign if sign.isprintable() else sign.encode("unicode_escape").decode("ascii")
        for sign in text
    )
