"""The scripts of the pages under names that carry their hash; an import names the other's hash.

A script in a folder has the folder in its name, `fit/wheel`; as a file all lie in one place.
"""

import posixpath
import re
from functools import cache
from pathlib import Path

from generator.rendering.stylesheet import Asset, named_by_content

_IMPORT = re.compile(r"""(?<=from ")(\.{1,2}/[a-z_/.]*[a-z_]+)\.js(?=";)""")
_COMMENT_LINE = re.compile(r"^\s*//[^\n]*\n", re.MULTILINE)
_INDENT = re.compile(r"^ +", re.MULTILINE)


def scripts(folder: Path) -> dict[str, Asset]:
    """Give all scripts of the folder of templates by their plain name.

    Raises KeyError if one imports a script that is not there, RecursionError if two import each
    other.
    """
    top = folder / "scripts"
    texts = {
        path.relative_to(top).with_suffix("").as_posix(): path.read_text("utf-8")
        for path in top.rglob("*.js")
    }

    @cache
    def made(name: str) -> Asset:
        def renamed(match: re.Match[str]) -> str:
            way = posixpath.join(posixpath.dirname(name), match.group(1))
            return f"./{made(posixpath.normpath(way)).name}"

        text = _IMPORT.sub(renamed, without_remarks(texts[name]))
        return named_by_content(name.replace("/", "-"), ".js", text.encode("utf-8"))

    return {name: made(name) for name in sorted(texts)}


def without_remarks(text: str) -> str:
    r"""Take whole-line comments and indentation out of a script without texts of several lines.

    >>> without_remarks("// why\nif (a) {\n  b();\n}\n")
    'if (a) {\nb();\n}\n'
    """
    is_across_lines = any(line.count("`") % 2 for line in text.splitlines())
    return text if is_across_lines else _INDENT.sub("", _COMMENT_LINE.sub("", text))
