"""Members' text in Markdown: shown as code on one line, so that nothing in it can act.

A code span makes HTML, links, mentions, emphasis and tables inert on every forge. Its fence is
longer than any run of backticks inside. In a table the bar is escaped, as the table's grammar asks.
"""

import re

from generator.reading.text import shown

MOST = 160
"""Characters of one text that a report shows."""


def code(text: str, most: int = MOST) -> str:
    """Write a text as code within a line of prose.

    >>> code("7 x 15"), code("")
    ('`7 x 15`', '(nothing)')
    """
    safe = shown(text, most).strip()
    if not safe:
        return "(nothing)"
    longest = max((len(run) for run in re.findall(r"`+", safe)), default=0)
    fence = "`" * (longest + 1)
    pad = " " if safe.startswith("`") or safe.endswith("`") else ""
    return f"{fence}{pad}{safe}{pad}{fence}"


def cell(text: str, most: int = MOST) -> str:
    r"""Write a text as code within a table.

    >>> print(cell("a | b"))
    `a \| b`
    """
    return code(text, most).replace("|", "\\|")


def words(text: str, most: int = 400) -> str:
    r"""Write the guide's own sentence that has members' words in it, so that only letters count.

    Signs that mean something in Markdown or HTML become character references; addresses and
    mentions are broken up by them too.

    >>> words("a *b* <i>")
    'a &#42;b&#42; &#60;i&#62;'
    """
    return _MEANT.sub(lambda found: f"&#{ord(found.group())};", shown(text, most))


# A colon or dot between letters could make an address of its neighbours.
_MEANT = re.compile(r"[&<>\\`*_\[\]#|~@$!^]|:(?=\S)|\.(?=[A-Za-z])")
