"""YAML as members send it: read as a stream, refused early, every scalar kept as typed text.

Nothing of YAML's own typing is used: `NO` stays the text `NO`, `12:30` stays `12:30`. Size, depth,
anchors, aliases, merge keys, tags, doubled keys and keys that are not plain text are refused while
the events stream by, so that no input can grow in memory. This is the only room that reads
members' YAML; whatever goes wrong in it becomes a placed fault.
"""

from collections.abc import Iterator
from dataclasses import field
from typing import NoReturn, TypeAlias

import yaml

from generator.frozen import dataclass
from generator.reading.decoding import PRINTABLE, decoded
from generator.reading.fault import Fault, Mark, Place, Severity
from generator.reading.text import first_forbidden, named, shown
from generator.reading.yaml_words import plainly

DEEPEST = 12
MOST_EVENTS = 8000
MOST_ITEMS = 300
MOST_FIELDS = 100
"""The largest group of a record has a quarter of it; many names slow the search for near ones."""
LONGEST_SCALAR = 6000
LONGEST_EXCERPT = 400
"""Characters of a line; further out a fault has its place and no picture."""

Route: TypeAlias = tuple[str | int, ...]
"""The keys and indices from the top of a file to one of its parts."""

_CODES_OF_KEY_SHAPES = frozenset({"", "~", "null", "true", "false", "<<"})


@dataclass(frozen=True)
class Span:
    """Where a node stands: zero-based line and column, and the end (first position after)."""

    line: int
    column: int
    end_line: int
    end_column: int


@dataclass(frozen=True)
class Scalar:
    """A text; `raw_offset` is the number of signs before its first character (1 in quotes)."""

    text: str
    span: Span
    raw_offset: int
    is_verbatim: bool
    """True where the file shows the text as it is, so that characters can be pointed at."""


@dataclass(frozen=True)
class Mapping:
    """Keys with their values, in the order written."""

    entries: dict[str, "Node"]
    keys: dict[str, Span]
    span: Span


@dataclass(frozen=True)
class Sequence:
    """Items in the order written."""

    items: tuple["Node", ...]
    span: Span


Node: TypeAlias = Scalar | Mapping | Sequence


@dataclass(frozen=True)
class SourceFile:
    """One YAML file: its path as shown, its text, and its nodes."""

    path: str
    text: str
    root: Mapping
    faults: tuple[Fault, ...] = ()
    """Notes about the file as a whole; a file with errors does not become a SourceFile."""

    _starts: list[int] = field(default_factory=list)

    def __getstate__(self) -> dict[str, object]:
        """Give what is kept of a file; its nodes follow from its text."""
        return {"path": self.path, "text": self.text, "faults": self.faults, "_starts": []}

    def __getattr__(self, name: str) -> Mapping:
        """Read the nodes of a file that was kept without them, when they are first asked for."""
        if name != "root" or "text" not in self.__dict__:
            raise AttributeError(name)
        root = _Stream(self.path, self.text).read()
        object.__setattr__(self, "root", root)
        return root

    def node(self, route: Route) -> Node | None:
        """Find the node at a route; None where the file has none."""
        node: Node | None = self.root
        for step in route:
            if isinstance(node, Mapping) and isinstance(step, str):
                node = node.entries.get(step)
            elif isinstance(node, Sequence) and isinstance(step, int) and step < len(node.items):
                node = node.items[step]
            else:
                return None
        return node

    def place(self, route: Route, start: int | None = None, end: int | None = None) -> Place:
        """Give the place of a value, or of characters start to end of its text.

        A route that the file does not have is placed at its nearest existing part.
        """
        node = self.node(route)
        if node is None:
            return self.key_place(route[:-1]) if route else _place(self, self.root.span)
        if isinstance(node, Scalar) and start is not None and node.is_verbatim:
            column = node.span.column + node.raw_offset + start
            width = max(1, (end if end is not None else len(node.text)) - start)
            line = node.span.line
            return _place(self, Span(line, column, line, column + width))
        if isinstance(node, Scalar):
            return _place(self, node.span)
        return self.key_place(route)

    def key_place(self, route: Route) -> Place:
        """Give the place of the key that leads to a value (of the item itself in a list)."""
        if not route:
            first = next(iter(self.root.keys.values()), self.root.span)
            return _place(self, first)
        parent = self.node(route[:-1])
        last = route[-1]
        if isinstance(parent, Mapping) and isinstance(last, str) and last in parent.keys:
            return _place(self, parent.keys[last])
        node = self.node(route)
        if node is None:
            return self.key_place(route[:-1])
        if isinstance(node, Mapping) and node.keys:
            return _place(self, next(iter(node.keys.values())))
        return _place(self, node.span)


class _Refusal(Exception):
    """Stops the stream; carries the fault."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.headline)
        self.fault = fault


def load(path: str, content: bytes) -> tuple[SourceFile | None, tuple[Fault, ...]]:
    """Read one YAML file into nodes; None with at least one error where it cannot be read.

    Whatever is thrown on the way becomes a fault: a member's file never ends the program.
    """
    text, notes = decoded(path, content)
    if text is None:
        return None, notes
    try:
        root = _Stream(path, text).read()
        return SourceFile(path, text, root, notes), notes
    except _Refusal as refusal:
        return None, (*notes, refusal.fault)
    except yaml.YAMLError as error:
        return None, (*notes, _syntax_fault(path, text, error))
    except (ValueError, RecursionError, MemoryError, OverflowError) as error:
        fault = _fault("Y04", "this file cannot be read as YAML", Place(path), why=named(error))
        return None, (*notes, fault)


def _fault(
    code: str, headline: str, place: Place, *, expected: str = "", why: str = "", fix: str = ""
) -> Fault:
    return Fault(code, Severity.ERROR, headline, place, expected, why, fix)


def _syntax_fault(path: str, text: str, error: yaml.YAMLError) -> Fault:
    mark = getattr(error, "problem_mark", None)
    slip = plainly(str(getattr(error, "problem", None)))
    lines = text.split("\n")
    line = min(mark.line, len(lines) - 1) if mark else 0
    for row in (line, line - 1):
        begin = lines[row][: len(lines[row]) - len(lines[row].lstrip())] if row >= 0 else ""
        if "\t" in begin:
            span = Span(row, begin.index("\t"), row, begin.index("\t") + 1)
            fix = "replace each tab at the start of a line by two blanks"
            place = _to_place(path, span, lines[row])
            headline = "a tab stands in the indentation"
            return _fault("Y05", headline, place, expected="blanks", fix=fix)
    column = mark.column if mark else 0
    place = _to_place(path, Span(line, column, line, column + 1), lines[line])
    headline = f"this line cannot be read: {slip.words}"
    return _fault(slip.code, headline, place, expected=_EXPECTED.get(slip.code, ""), fix=slip.fix)


class _Stream:
    """Builds nodes from parser events and stops at the first thing that is refused."""

    def __init__(self, path: str, text: str) -> None:
        self._path = path
        self._text = text
        self._lines = text.split("\n")
        loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
        self._events: Iterator[yaml.Event] = self._counted(yaml.parse(text, Loader=loader))

    def _counted(self, events: Iterator[yaml.Event]) -> Iterator[yaml.Event]:
        depth = 0
        for count, event in enumerate(events):
            if isinstance(event, yaml.CollectionStartEvent):
                depth += 1
            elif isinstance(event, yaml.CollectionEndEvent):
                depth -= 1
            if depth > DEEPEST:
                self._refuse(event, "Y12", f"lists and groups are nested more than {DEEPEST} deep")
            if count > MOST_EVENTS:
                self._refuse(event, "Y13", f"this file has more than {MOST_EVENTS} parts")
            self._check(event)
            yield event

    def _check(self, event: yaml.Event) -> None:
        if isinstance(event, yaml.AliasEvent) or getattr(event, "anchor", None):
            fix = "write the value out where it is needed"
            self._refuse(event, "Y06", "an anchor or alias stands here", fix=fix)
        tag = getattr(event, "tag", None)
        if tag and tag != "!":
            self._refuse(
                event, "Y07", f"the tag `{shown(tag, 40)}` stands here", fix="leave the tag out"
            )
        if isinstance(event, yaml.DocumentStartEvent) and (event.version or event.tags):
            self._refuse(event, "Y10", "a YAML directive stands here", fix="leave the line out")
        if isinstance(event, yaml.ScalarEvent) and len(event.value) > LONGEST_SCALAR:
            self._refuse(event, "Y14", f"this text has {len(event.value)} characters")

    def _refuse(self, event: yaml.Event, code: str, headline: str, *, fix: str = "") -> NoReturn:
        place = self._place(_span(event))
        expected = _EXPECTED.get(code, "")
        raise _Refusal(_fault(code, headline, place, expected=expected, fix=fix))

    def _place(self, span: Span) -> Place:
        line = self._lines[span.line] if span.line < len(self._lines) else ""
        return _to_place(self._path, span, line)

    def read(self) -> Mapping:
        """Read the one document of the file, which must be a mapping."""
        next(self._events)
        event = next(self._events)
        if isinstance(event, yaml.StreamEndEvent):
            raise _Refusal(_fault("Y11", "this file is empty", Place(self._path)))
        top = next(self._events)
        node = self._node(top)
        if not isinstance(node, Mapping):
            self._refuse(top, "Y11", "this file does not begin with a field")
        next(self._events)
        after = next(self._events)
        if not isinstance(after, yaml.StreamEndEvent):
            self._refuse(after, "Y10", "a second document begins here")
        return node

    def _node(self, event: yaml.Event) -> Node:
        if isinstance(event, yaml.ScalarEvent):
            return self._scalar(event)
        if isinstance(event, yaml.SequenceStartEvent):
            items: list[Node] = []
            while not isinstance(item := next(self._events), yaml.SequenceEndEvent):
                if len(items) == MOST_ITEMS:
                    self._refuse(item, "Y13", f"this list has more than {MOST_ITEMS} items")
                items.append(self._node(item))
            return Sequence(tuple(items), _span(event))
        return self._mapping(event)

    def _mapping(self, event: yaml.Event) -> Mapping:
        entries: dict[str, Node] = {}
        keys: dict[str, Span] = {}
        while not isinstance(key := next(self._events), yaml.MappingEndEvent):
            name = self._key(key)
            if name in keys:
                place, first = self._place(_span(key)), self._place(keys[name])
                mark = Mark(first, "first written here")
                headline = f"`{shown(name, 60)}` is written twice"
                raise _Refusal(
                    Fault("Y08", Severity.ERROR, headline, place, "each key once", also=(mark,))
                )
            if len(keys) == MOST_FIELDS:
                self._refuse(key, "Y13", f"this group has more than {MOST_FIELDS} fields")
            keys[name] = _span(key)
            entries[name] = self._node(next(self._events))
        return Mapping(entries, keys, _span(event))

    def _key(self, event: yaml.Event) -> str:
        if not isinstance(event, yaml.ScalarEvent):
            self._refuse(event, "Y09", "a list or group stands where a field's name belongs")
        name = event.value
        if name == "<<":
            self._refuse(event, "Y06", "a merge key stands here", fix="write the fields out")
        is_number = name[:1].isdigit() or name[:1] in "+-."
        if name.lower() in _CODES_OF_KEY_SHAPES or is_number or "\n" in name or len(name) > 60:
            self._refuse(event, "Y09", f"`{shown(name, 20)}` is not the name of a field")
        return str(name)

    def _scalar(self, event: yaml.ScalarEvent) -> Scalar:
        span = _span(event)
        bad = first_forbidden(event.value, newlines=True)
        if bad is not None:
            headline = f"the character {named(event.value[bad])} cannot stand in a record"
            self._refuse(event, "Y03", headline)
        line = self._lines[span.line] if span.line < len(self._lines) else ""
        offset = 1 if event.style in ("'", '"') else 0
        begin = span.column + offset
        verbatim = line[begin : begin + len(event.value)] == event.value
        return Scalar(event.value, span, offset, verbatim)


def _span(event: yaml.Event) -> Span:
    start, end = event.start_mark, event.end_mark
    if start is None or end is None:
        return Span(0, 0, 0, 0)
    return Span(start.line, start.column, end.line, end.column)


def _to_place(path: str, span: Span, line: str) -> Place:
    last = span.end_line if span.end_column > 0 else span.line
    one_line = last == span.line
    end = span.end_column if one_line else len(line)
    return Place(
        path,
        span.line + 1,
        span.column + 1,
        span.line + 1,
        max(end, span.column + 1) + 1,
        line[:LONGEST_EXCERPT],
    )


def _place(source: SourceFile, span: Span) -> Place:
    if not source._starts:
        source._starts.extend(_line_starts(source.text))
    start = source._starts[span.line] if span.line < len(source._starts) else len(source.text)
    end = source.text.find("\n", start)
    return _to_place(source.path, span, source.text[start : end if end >= 0 else None])


def _line_starts(text: str) -> list[int]:
    starts = [0]
    while (at := text.find("\n", starts[-1])) >= 0:
        starts.append(at + 1)
    return starts


_EXPECTED = {
    "Y03": PRINTABLE,
    "Y06": "the value itself",
    "Y07": "plain text",
    "Y09": "the plain name of a field",
    "Y10": "one document a file",
    "Y11": "fields, one a line, such as `title: …`",
    "Y12": f"at most {DEEPEST} levels",
    "Y13": f"at most {MOST_EVENTS} parts, {MOST_ITEMS} items in a list, {MOST_FIELDS} in a group",
    "Y14": f"at most {LONGEST_SCALAR} characters",
}
