"""Members' Markdown to HTML: text stays text, links go only where they say they go.

Raw HTML is off. Links may be `https://`, `mailto:` or relative to the guide; anything else stays
the text it was typed as. Pictures from members' text are shown as their words only. Nothing in
the text is ever read as a template.
"""

import re
from collections.abc import Callable, Iterable, Iterator
from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING

from markupsafe import Markup

from generator.frozen import dataclass
from generator.rendering.filters import ident
from generator.rendering.together import code, together

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token

NOTE_LIMIT_BYTES = 4096
"""The longest note that is rendered; the readers of records refuse a longer one at its line."""
ARTICLE_LIMIT_BYTES = 65_536

DrawingHook = Callable[[str], Markup]
"""Gives the figure that an article asks for by name; raises KeyError for a name it has not."""

_SCHEME = re.compile(r"[A-Za-z][A-Za-z0-9+.\-]*:")
_CONTROL_OR_BLANK = re.compile(r"[\x00-\x20\x7f-\x9f\u2028\u2029]")
_INDENT = re.compile(r"([ ]*(?:- )?)(.*)", re.DOTALL)
_CODE_LINE = Markup('<span class="code-line"><span>{}</span><span>{}</span></span>')
_STACKS, _MANY_COLUMNS = "stacks", 4
_DRAWING = re.compile(r"drawing ([a-z0-9]+(?:-[a-z0-9]+)*)")


@dataclass(frozen=True)
class Heading:
    """One heading of an article, for its list of contents."""

    level: int
    text: str
    ident: str


@dataclass(frozen=True)
class Prose:
    """Rendered text and the headings in it, in order."""

    html: Markup
    headings: tuple[Heading, ...] = ()


class UnknownDrawing(ValueError):
    """An article asks for a drawing that the guide has not; `line` counts from 1 in the text."""

    def __init__(self, name: str, line: int) -> None:
        super().__init__(f"no drawing is called `{name}`")
        self.name = name
        self.line = line


def note(text: str, first_heading: int = 3) -> Markup:
    """Render a member's note; its headings begin at `first_heading` and get no ids."""
    _refuse_longer(text, NOTE_LIMIT_BYTES)
    tokens = _parsed(text, first_heading)
    _forget_infos(tokens)
    return Markup(_markdown().renderer.render(tokens, _markdown().options, {}))


def article(text: str, drawing: DrawingHook, *, first_heading: int = 2) -> Prose:
    """Render an article; a fenced block headed `drawing NAME` is replaced by our own figure."""
    _refuse_longer(text, ARTICLE_LIMIT_BYTES)
    tokens = _parsed(text, first_heading)
    _forget_infos(token for token in tokens if token.level > 0 or not _is_drawing(token))
    headings = tuple(_with_ids(tokens))
    parts = [
        _drawn(token, drawing) or _markdown().renderer.render(group, _markdown().options, {})
        for token, group in _grouped(tokens)
    ]
    return Prose(Markup("").join(Markup(part) for part in parts), headings)


def is_allowed_link(address: str) -> bool:
    """Tell whether an address may be linked: https, mailto, or relative to the guide.

    >>> is_allowed_link("https://example.org/a"), is_allowed_link("//example.org/a")
    (True, False)
    """
    if not address or _CONTROL_OR_BLANK.search(address) or "\\" in address:
        return False
    lowered = address.lower()
    if lowered.startswith("https://"):
        return len(address) > len("https://") and address[len("https://")] not in "/?#"
    if lowered.startswith("mailto:"):
        return "@" in address and "?" not in address
    first_segment = re.split(r"[/?#]", address, maxsplit=1)[0]
    return not (address.startswith("//") or _SCHEME.match(address) or ":" in first_segment)


def _refuse_longer(text: str, limit: int) -> None:
    size = len(text.encode("utf-8"))
    if size > limit:
        raise ValueError(f"a text of {size} bytes reached the renderer, which takes {limit}")


@cache
def _markdown() -> "MarkdownIt":
    """Make the one parser: html off, links by allow-list, pictures as words."""
    from markdown_it import MarkdownIt
    from markdown_it.renderer import RendererHTML

    class Parser(MarkdownIt):
        def validateLink(self, url: str) -> bool:  # noqa: N802 - the library's own name
            return is_allowed_link(url)

    def as_words(renderer: RendererHTML, tokens: "list[Token]", at: int, *_rest: object) -> str:
        return str(Markup("[picture: {}]").format(tokens[at].content or "without words"))

    parser = Parser("commonmark", {"html": False, "maxNesting": 20}).enable("table")
    parser.disable(["html_block", "html_inline"])
    parser.add_render_rule("image", as_words)
    parser.add_render_rule("text", _text)
    parser.add_render_rule("code_inline", _code_word)
    parser.add_render_rule("fence", _code)
    parser.add_render_rule("code_block", _code)
    parser.add_render_rule("table_open", _table_open)
    parser.add_render_rule("table_close", _table_close)
    return parser


def _text(_renderer: object, tokens: "list[Token]", at: int, *_rest: object) -> str:
    return str(together(tokens[at].content))


def _code_word(_renderer: object, tokens: "list[Token]", at: int, *_rest: object) -> str:
    return str(code(tokens[at].content))


def _code(_renderer: object, tokens: "list[Token]", at: int, *_rest: object) -> str:
    """Give code line by line: one too long for a small screen goes on below where it began."""
    lines = (_INDENT.fullmatch(line) for line in tokens[at].content.splitlines(keepends=True))
    made = (_CODE_LINE.format(*line.groups()) for line in lines if line)
    return str(Markup("<pre><code>{}</code></pre>\n").format(Markup("").join(made)))


def _table_open(_renderer: object, tokens: "list[Token]", at: int, *_rest: object) -> str:
    if tokens[at].meta.get(_STACKS):
        return '<div class="table-region stacks"><table role="table">'
    return '<div class="table-region" role="region" aria-label="Table" tabindex="0"><table>'


def _table_close(*_rest: object) -> str:
    return "</table></div>"


def _parsed(text: str, first_heading: int) -> "list[Token]":
    tokens = _markdown().parse(text)
    _set_levels(tokens, first_heading)
    _set_tables(tokens)
    _mark_cautions(tokens)
    for token in tokens:
        if token.children:
            token.children = list(_lines_joined(token.children))
        for inner in token.children or ():
            if inner.type == "link_open" and str(inner.attrGet("href")).startswith("https:"):
                inner.attrSet("rel", "nofollow noopener ugc")
        if token.type in {"th_open", "td_open"}:
            if _is_figure(token):
                token.attrSet("class", "figure")
            token.attrs.pop("style", None)
    return tokens


def _lines_joined(tokens: "list[Token]") -> "Iterator[Token]":
    """Make one text of lines that only the file broke: a number may end one, its unit begin one."""
    kept: Token | None = None
    for token in tokens:
        words = "\n" if token.type == "softbreak" else token.content
        if kept is not None and token.type in {"text", "softbreak"}:
            kept.content += words
            continue
        kept = token if token.type == "text" else None
        yield token


def _set_tables(tokens: "list[Token]") -> None:
    begun = 0
    for at, token in enumerate(tokens):
        if token.type == "table_open":
            begun = at
        elif token.type == "table_close":
            _set_table(tokens[begun:at])


def _set_table(tokens: "list[Token]") -> None:
    """Let a table of many words become a card a row on a phone; each cell then names its column."""
    heads = [(cell, _words(inside)) for cell, inside in pairwise(tokens) if cell.type == "th_open"]
    of_words = [words for cell, words in heads if not _is_figure(cell)]
    if len(heads) < _MANY_COLUMNS or len(of_words) < 2:
        return
    tokens[0].meta[_STACKS] = True
    cells = [token for token in tokens if token.type == "td_open"]
    for at, cell in enumerate(cells):
        cell.attrSet("data-label", heads[at % len(heads)][1])


def _is_figure(cell: "Token") -> bool:
    return str(cell.attrs.get("style", "")).endswith("right")


def _mark_cautions(tokens: "list[Token]") -> None:
    """Give a quoted paragraph that begins with a bold "Caution" the look of a caution."""
    for quote, inside in zip(tokens, tokens[2:], strict=False):
        if quote.type == "blockquote_open" and inside.content.startswith("**Caution"):
            quote.attrSet("class", "caution-said")


def _is_drawing(token: "Token") -> bool:
    return token.type == "fence" and _DRAWING.fullmatch(token.info.strip()) is not None


def _forget_infos(tokens: "Iterable[Token]") -> None:
    for token in tokens:
        token.info = ""


def _set_levels(tokens: "Iterable[Token]", first: int) -> None:
    """Shift headings to begin at `first` and to go down one level at a time."""
    open_levels: list[int] = []
    for token in tokens:
        if token.type == "heading_open":
            typed = int(token.tag[1:])
            while open_levels and open_levels[-1] >= typed:
                open_levels.pop()
            open_levels.append(typed)
        if token.type in {"heading_open", "heading_close"}:
            token.tag = f"h{min(6, first + len(open_levels) - 1)}"


def _with_ids(tokens: "list[Token]") -> Iterator[Heading]:
    """Give each heading an id of its own, counted where words repeat."""
    seen: dict[str, int] = {}
    for at, token in enumerate(tokens):
        if token.type != "heading_open":
            continue
        words = _words(tokens[at + 1])
        name = f"on-{ident(words)}"
        seen[name] = seen.get(name, 0) + 1
        unique = name if seen[name] == 1 else f"{name}--{seen[name]}"
        token.attrSet("id", unique)
        yield Heading(int(token.tag[1:]), words, unique)


def _words(inline: "Token") -> str:
    parts = (child.content if child.content else " " for child in inline.children or ())
    return " ".join("".join(parts).split())


def _grouped(tokens: "list[Token]") -> "Iterator[tuple[Token | None, list[Token]]]":
    """Part the tokens at the drawings, which stand alone at the outermost level."""
    group: list[Token] = []
    for token in tokens:
        if token.level == 0 and _is_drawing(token):
            yield None, group
            yield token, []
            group = []
        else:
            group.append(token)
    yield None, group


def _drawn(token: "Token | None", drawing: DrawingHook) -> Markup | None:
    if token is None:
        return None
    name = token.info.strip().removeprefix("drawing ")
    try:
        return drawing(name)
    except KeyError as missing:
        raise UnknownDrawing(name, (token.map or [0])[0] + 1) from missing
