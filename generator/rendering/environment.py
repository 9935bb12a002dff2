"""The template environment: escaping always on, nothing undefined, literal text minified once.

htmlmin works on the literal text between the tags of a template, when the template is loaded, and
never on a page: what members wrote does not pass through it. `svg`, `pre`, `textarea`, `script`
and `style` are kept to the letter; so is a whole template whose text cannot be read without its
tags.
"""

import re
import warnings
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from jinja2.bccache import Bucket, BytecodeCache
from jinja2.ext import Extension
from jinja2.lexer import Token, TokenStream
from markupsafe import Markup

from generator.cache.digests import digest
from generator.cache.program import program
from generator.cache.store import Store
from generator.frozen import dataclass
from generator.rendering import filters
from generator.rendering.other_units import quantities_apart

if TYPE_CHECKING:
    from collections.abc import Callable

_ROOM = Path(__file__).resolve().parent.parent
_KEPT = re.compile(r"<(svg|pre|textarea|script|style)\b.*?</\1\s*>", re.DOTALL | re.IGNORECASE)
_MOST_KNOWN = 50_000
"""Numbers written out that are remembered: some 15 MB."""
_MARK = "jx{}xj"
_ANY_MARK = re.compile(r"jx(\d+)xj")
_ANY_KEPT = re.compile(r"kx(\d+)xk")
_MARK_IN_TAG_NAME = re.compile(r"</?[A-Za-z][A-Za-z0-9-]*jx\d")
_MARK_IN_CLOSED_TAG = re.compile(r"<[^<>]*jx\d+xj[^<>]*/>")
_UNPAIRED = re.compile(r"</?(?:svg|pre|textarea|script|style)\b", re.IGNORECASE)


def template_folder() -> Path:
    """Give the folder of the templates: inside an installed wheel, or beside a checkout's code."""
    installed = _ROOM / "_templates"
    return installed if installed.is_dir() else _ROOM.parent / "templates"


def build_environment(
    folder: Path | None = None,
    *,
    minify: bool = True,
    inch_first: bool = False,
    store: Store | None = None,
) -> Environment:
    """Make the environment that renders every page, drawing and feed of the guide.

    `inch_first` is the club's choice of the unit that stands before the other. `store` spares
    reading and minifying a template that this program has read before.
    """
    environment = Environment(
        loader=FileSystemLoader(folder or template_folder(), encoding="utf-8"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=False,
        auto_reload=False,
        cache_size=-1,
        bytecode_cache=_Compiled(store) if store and minify else None,
        extensions=[_MinifiedText] if minify else [],
    )
    environment.filters.update(filters.FILTERS)
    environment.filters["quantities_apart"] = quantities_apart
    environment.globals["inch_first"] = inch_first
    environment.globals["once"] = _once()
    environment.globals["component_names"] = _component_names(environment.list_templates())
    return environment


def _once() -> "Callable[..., Markup]":
    """Give a function that calls a macro once for the same values: most numbers come again."""
    known: dict[tuple[object, ...], Markup] = {}

    def once(macro: "Callable[..., Markup]", *given: object) -> Markup:
        key = (macro, *given)
        said = known.get(key)
        if said is None:
            if len(known) >= _MOST_KNOWN:
                known.clear()
            said = known[key] = macro(*given)
        return said

    return once


class _Compiled(BytecodeCache):
    """Compiled templates in a store: code, and therefore taken only with the digest of its key."""

    def __init__(self, store: Store) -> None:
        self._store = store

    def load_bytecode(self, bucket: Bucket) -> None:
        kept = self._store.get(self._name(bucket))
        if isinstance(kept, bytes):
            bucket.bytecode_from_string(kept)

    def dump_bytecode(self, bucket: Bucket) -> None:
        self._store.put(self._name(bucket), bucket.bytecode_to_string())

    def _name(self, bucket: Bucket) -> str:
        return digest("template", program(), bucket.key, bucket.checksum)


def _component_names(templates: list[str]) -> tuple[str, ...]:
    """Name the components that show their own examples on the specimen page."""
    parts = (name.split("/") for name in templates)
    return tuple(p[1] for p in parts if p[0] == "components" and p[-1] == "examples.html")


def minified(text: str) -> str:
    r"""Collapse the blanks of one HTML text, keeping its tree, its quotes and its exact parts.

    >>> minified('<p class="a b">one\n   two</p>')
    '<p class="a b">one two</p>'
    """
    if _ANY_KEPT.search(text):
        return text
    kept: list[str] = []

    def keep(match: re.Match[str]) -> str:
        kept.append(match.group())
        return f"kx{len(kept) - 1}xk"

    shortened = _minifier()(_KEPT.sub(keep, text))
    return _ANY_KEPT.sub(lambda match: kept[int(match.group(1))], shortened)


@cache
def _minifier() -> "Callable[[str], str]":
    """Give htmlmin set to change blanks and comments only; its import of `cgi` warns in 3.11."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)
        import htmlmin

    def shorten(text: str) -> str:
        return str(
            htmlmin.minify(
                text,
                remove_comments=True,
                reduce_empty_attributes=False,
                remove_optional_attribute_quotes=False,
                convert_charrefs=False,
                keep_pre=True,
            )
        )

    return shorten


@dataclass(frozen=True)
class _Piece:
    """A run of template tokens: literal text, or the tags between two literal texts."""

    tokens: tuple[Token, ...]

    @property
    def is_text(self) -> bool:
        return self.tokens[0].type == "data"

    @property
    def text(self) -> str:
        return "".join(token.value for token in self.tokens)


class _MinifiedText(Extension):
    """Minifies what a template says between its tags, after Jinja has trimmed its lines.

    Each run of tags is stood for by a word, so that htmlmin sees one whole text and the blanks on
    either side of a tag count as blanks beside a word: they are collapsed, never dropped.
    """

    def filter_stream(self, stream: TokenStream) -> TokenStream | Iterable[Token]:
        tokens = tuple(stream)
        if stream.name is None or not stream.name.endswith(".html"):
            return iter(tokens)
        pieces = tuple(_pieces(tokens))
        marked = "".join(
            piece.text if piece.is_text else _MARK.format(number)
            for number, piece in enumerate(pieces)
        )
        if not _is_readable(marked, pieces):
            return iter(tokens)
        parts = tuple(_ANY_MARK.split(minified(marked)))
        marks = [number for number, piece in enumerate(pieces) if not piece.is_text]
        return _restored(parts, pieces) if [*map(int, parts[1::2])] == marks else iter(tokens)


def _is_readable(marked: str, pieces: tuple[_Piece, ...]) -> bool:
    """Tell whether a template's text can be read while its tags are stood for by words."""
    if any(piece.is_text and _ANY_MARK.search(piece.text) for piece in pieces):
        return False
    bare = _KEPT.sub("", marked)
    return not any(
        pattern.search(bare) for pattern in (_MARK_IN_TAG_NAME, _MARK_IN_CLOSED_TAG, _UNPAIRED)
    )


def _pieces(tokens: tuple[Token, ...]) -> Iterator[_Piece]:
    run: list[Token] = []
    for token in tokens:
        if run and (run[0].type == "data") != (token.type == "data"):
            yield _Piece(tuple(run))
            run = []
        run.append(token)
    if run:
        yield _Piece(tuple(run))


def _restored(parts: tuple[str, ...], pieces: tuple[_Piece, ...]) -> Iterator[Token]:
    """Put the tags back where their words stand in the minified text."""
    line = 1
    for at, part in enumerate(parts):
        if at % 2:
            tags = pieces[int(part)].tokens
            yield from tags
            line = tags[-1].lineno
        elif part:
            yield Token(line, "data", part)


def finished(markup: str) -> Markup:
    """Mark text as finished: markup that this program made, with every foreign part escaped."""
    return Markup(markup)
