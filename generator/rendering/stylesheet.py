"""The guide's one style sheet, joined from tokens, base, components and print, in that order."""

import hashlib
import re
from pathlib import Path

from generator.frozen import dataclass

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_STRING = re.compile(r"\"[^\"\n]*\"|'[^'\n]*'")
_BLANKS = re.compile(r"\s+")
_AROUND = re.compile(r" ?([{};,]) ?")
_AFTER_COLON = re.compile(r"(?<=[a-z0-9-]): (?=[^{}]*[;}])")
_HASH_LENGTH = 10


@dataclass(frozen=True)
class Asset:
    """A file that pages link to; its name carries the hash of its bytes."""

    name: str
    body: bytes


def named_by_content(stem: str, suffix: str, body: bytes) -> Asset:
    """Give a file a name that changes when its bytes do.

    >>> named_by_content("guide", ".css", b"a{}").name
    'guide.5f546eb460.css'
    """
    return Asset(f"{stem}.{hashlib.sha256(body).hexdigest()[:_HASH_LENGTH]}{suffix}", body)


def stylesheet(folder: Path) -> Asset:
    """Join all style files below the folder of templates into one."""
    text = "\n".join(path.read_text(encoding="utf-8") for path in style_files(folder))
    return named_by_content("guide", ".css", shortened(text).encode())


def style_files(folder: Path) -> tuple[Path, ...]:
    """List the style files in the order in which they apply; print comes last and wins."""
    styles = folder / "styles"
    components = sorted((folder / "components").glob("*/*.css"))
    pages = sorted((folder / "pages").glob("*.css"))
    return (styles / "tokens.css", styles / "base.css", *components, *pages, styles / "print.css")


def shortened(text: str) -> str:
    r"""Take comments and needless blanks out of a style sheet; strings stay to the letter.

    >>> shortened('a  {\n  /* why */ color : red;\n}\nb::before { content: "a  b"; }')
    'a{color : red}b::before{content:"a  b"}'
    """
    strings: list[str] = []

    def keep(match: re.Match[str]) -> str:
        strings.append(match.group())
        return f"\x00{len(strings) - 1}\x00"

    bare = _STRING.sub(keep, _COMMENT.sub("", text))
    tight = _AFTER_COLON.sub(":", _AROUND.sub(r"\1", _BLANKS.sub(" ", bare))).replace(";}", "}")
    return re.sub("\x00(\\d+)\x00", lambda match: strings[int(match.group(1))], tight).strip()
