"""The scripts of the pages under names that carry their hash; an import names the other's hash."""

import re
from functools import cache
from pathlib import Path

from generator.rendering.stylesheet import Asset, named_by_content

_IMPORT = re.compile(r"""(?<=from "\./)([a-z_]+)\.js(?=";)""")
_COMMENT_LINE = re.compile(r"^\s*//[^\n]*\n", re.MULTILINE)
_INDENT = re.compile(r"^ +", re.MULTILINE)


def scripts(folder: Path) -> dict[str, Asset]:
    """Give all scripts of the folder of templates by their plain name.

    Raises KeyError if one imports a script that is not there, RecursionError if two import each
    other.
    """
    texts = {path.stem: path.read_text("utf-8") for path in (folder / "scripts").glob("*.js")}

    @cache
    def made(name: str) -> Asset:
        text = _IMPORT.sub(lambda match: made(match.group(1)).name, without_remarks(texts[name]))
        return named_by_content(name, ".js", text.encode("utf-8"))

    return {name: made(name) for name in sorted(texts)}


def without_remarks(text: str) -> str:
    r"""Take whole-line comments and indentation out of a script without texts of several lines.

    >>> without_remarks("// why\nif (a) {\n  b();\n}\n")
    'if (a) {\nb();\n}\n'
    """
    is_across_lines = any(line.count("`") % 2 for line in text.splitlines())
    return text if is_across_lines else _INDENT.sub("", _COMMENT_LINE.sub("", text))
