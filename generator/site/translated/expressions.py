"""Expressions of Python written as expressions of JavaScript, with the same values.

The script has a small library `py` (templates/scripts/python.js) for what the two languages do
differently: truth of empty things, equality by value, numbers in texts, slices, methods of texts
and lists. What has no translation is refused, so that a rule is either the same or not live.
"""

import ast
import json
from collections.abc import Iterable, Iterator
from contextlib import contextmanager

from generator.site.translated.names import (
    Definition,
    Meaning,
    Outside,
    Room,
    Text,
    Untranslatable,
    text_of,
)
from generator.site.translated.words import FOREIGN, METHODS, RESERVED

_ARITHMETIC: dict[type[ast.operator], str] = {
    ast.Mult: "({} * {})",
    ast.Div: "({} / {})",
    ast.Pow: "(({}) ** {})",
    ast.FloorDiv: "Math.floor({} / {})",
    ast.Add: "py.add({}, {})",
    ast.Sub: "py.sub({}, {})",
    ast.Mod: "py.mod({}, {})",
    ast.BitOr: "py.union({}, {})",
    ast.BitAnd: "py.common({}, {})",
}
_COMPARED: dict[type[ast.cmpop], str] = {
    ast.Lt: "{} < {}",
    ast.LtE: "{} <= {}",
    ast.Gt: "{} > {}",
    ast.GtE: "{} >= {}",
    ast.Is: "{} === {}",
    ast.IsNot: "{} !== {}",
    ast.Eq: "py.eq({}, {})",
    ast.NotEq: "!py.eq({}, {})",
    ast.In: "py.has({1}, {0})",
    ast.NotIn: "!py.has({1}, {0})",
}
_TEXTS_OF_RULES = frozenset({"bad", "good", "mend"})
"""Said of a rule on its page, and never by the rule itself."""


def _is_rule(meaning: Meaning | None) -> bool:
    return isinstance(meaning, Definition) and meaning.name == "Rule"


def _without_examples(values: list[ast.expr]) -> list[ast.expr]:
    """Leave out what a rule's page says of it: fields 4, 6 and 7 of a rule."""
    return [ast.Constant("") if at in (4, 6, 7) else each for at, each in enumerate(values)]


def local(name: str) -> str:
    """Give the name of a variable in the script."""
    return f"{name}_" if name in RESERVED else name


class Expressions:
    """Translates the expressions of one module, and collects the definitions they need."""

    def __init__(self, text: Text) -> None:
        self.text = text
        self.needed: dict[Definition, None] = {}
        self.locals: set[str] = set()
        self.imports: dict[str, Meaning] = {}

    def refused(self, node: ast.AST, what: str = "") -> Untranslatable:
        """Make the error for a piece of code that has no translation."""
        line = getattr(node, "lineno", 0)
        return Untranslatable(f"{self.text.name}:{line}: {what or type(node).__name__}")

    def meaning(self, node: ast.expr) -> Meaning | None:
        """Give what a name, or a name in a module, stands for; None for anything else."""
        if isinstance(node, ast.Name) and node.id not in self.locals:
            found = self.imports.get(node.id)
            return found if found is not None else self.text.meaning(node.id)
        if isinstance(node, ast.Attribute):
            inner = self.meaning(node.value) if isinstance(node.value, ast.Name) else None
            if isinstance(inner, Room):
                return text_of(inner.module).meaning(node.attr)
            if isinstance(inner, Outside):
                return Outside(f"{inner.name}.{node.attr}")
        return None

    def named(self, meaning: Meaning) -> str:
        """Give the script's name for something, and note that it is needed."""
        if isinstance(meaning, Outside):
            return f"py.{meaning.name}"
        if isinstance(meaning, Room):
            raise Untranslatable(f"the module {meaning.module} as a value")
        if (meaning.module, meaning.name) in FOREIGN:
            return f"py.{FOREIGN[meaning.module, meaning.name]}"
        self.needed[meaning] = None
        return meaning.script_name

    def of(self, node: ast.expr) -> str:
        """Translate one expression."""
        translate = getattr(self, f"_{type(node).__name__.lower()}", None)
        if translate is None:
            raise self.refused(node)
        return str(translate(node))

    def truth(self, node: ast.expr) -> str:
        """Translate an expression of which only the truth counts."""
        if isinstance(node, ast.BoolOp):
            sign = " || " if isinstance(node.op, ast.Or) else " && "
            return f"({sign.join(self.truth(each) for each in node.values)})"
        if isinstance(node, ast.Compare) or (
            isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.Not)
        ):
            return self.of(node)
        return f"py.truth({self.of(node)})"

    def _constant(self, node: ast.Constant) -> str:
        value = node.value
        if value is None:
            return "null"
        if isinstance(value, bool | int | float | str):
            return json.dumps(value)
        raise self.refused(node)

    def _name(self, node: ast.Name) -> str:
        meaning = self.meaning(node)
        return local(node.id) if meaning is None else self.named(meaning)

    def _attribute(self, node: ast.Attribute) -> str:
        meaning = self.meaning(node)
        if meaning is not None:
            return self.named(meaning)
        if node.attr == "__getitem__":
            return f"py.getter({self.of(node.value)})"
        return f"{self.of(node.value)}.{node.attr}"

    def _subscript(self, node: ast.Subscript) -> str:
        if isinstance(node.slice, ast.Slice):
            if node.slice.step is not None:
                raise self.refused(node, "a slice with a step")
            ends = (node.slice.lower, node.slice.upper)
            low, high = ("null" if end is None else self.of(end) for end in ends)
            return f"py.slice({self.of(node.value)}, {low}, {high})"
        return f"py.at({self.of(node.value)}, {self.of(node.slice)})"

    def _binop(self, node: ast.BinOp) -> str:
        form = _ARITHMETIC.get(type(node.op))
        if form is None:
            raise self.refused(node)
        return form.format(self.of(node.left), self.of(node.right))

    def _unaryop(self, node: ast.UnaryOp) -> str:
        if isinstance(node.op, ast.Not):
            return f"!{self.truth(node.operand)}"
        if isinstance(node.op, ast.USub):
            return f"(-{self.of(node.operand)})"
        raise self.refused(node)

    def _boolop(self, node: ast.BoolOp) -> str:
        word = "either" if isinstance(node.op, ast.Or) else "both"
        *first, last = node.values
        made = self.of(last)
        for each in reversed(first):
            made = f"py.{word}({self.of(each)}, () => {made})"
        return made

    def _compare(self, node: ast.Compare) -> str:
        parts = [node.left, *node.comparators]
        said = [self.of(part) for part in parts]
        inner = [i for i, part in enumerate(parts) if 0 < i < len(parts) - 1]
        kept = [i for i in inner if not isinstance(parts[i], ast.Name | ast.Constant)]
        names = {i: f"$m{i}" for i in kept}
        shown = [names.get(i, text) for i, text in enumerate(said)]
        pairs = [
            _COMPARED[type(op)].format(shown[i], shown[i + 1]) for i, op in enumerate(node.ops)
        ]
        test = f"({' && '.join(pairs)})"
        if not kept:
            return test
        return f"(({', '.join(names.values())}) => {test})({', '.join(said[i] for i in kept)})"

    def _ifexp(self, node: ast.IfExp) -> str:
        return f"({self.truth(node.test)} ? {self.of(node.body)} : {self.of(node.orelse)})"

    def _joinedstr(self, node: ast.JoinedStr) -> str:
        pieces = [self._piece(each) for each in node.values]
        return f"({' + '.join(pieces)})" if pieces else json.dumps("")

    def _piece(self, node: ast.expr) -> str:
        if not isinstance(node, ast.FormattedValue):
            return self.of(node)
        if node.conversion != -1:
            raise self.refused(node, "a conversion in a text")
        if node.format_spec is None:
            return f"py.str({self.of(node.value)})"
        spec = node.format_spec
        if not isinstance(spec, ast.JoinedStr) or not all(
            isinstance(each, ast.Constant) for each in spec.values
        ):
            raise self.refused(node, "a form that is computed")
        form = "".join(str(each.value) for each in spec.values if isinstance(each, ast.Constant))
        return f"py.format({self.of(node.value)}, {json.dumps(form)})"

    def items(self, nodes: Iterable[ast.expr]) -> str:
        """Translate a row of values, some of which may be spread out."""
        return ", ".join(
            f"...{self.of(each.value)}" if isinstance(each, ast.Starred) else self.of(each)
            for each in nodes
        )

    def _tuple(self, node: ast.Tuple | ast.List) -> str:
        return f"[{self.items(node.elts)}]"

    _list = _tuple

    def _set(self, node: ast.Set) -> str:
        return f"py.set([{self.items(node.elts)}])"

    def _dict(self, node: ast.Dict) -> str:
        if any(key is None for key in node.keys):
            raise self.refused(node, "a dictionary inside another")
        pairs = [
            f"[{self.of(key)}, {self.of(value)}]"
            for key, value in zip(node.keys, node.values, strict=True)
            if key is not None
        ]
        return f"py.dict([{', '.join(pairs)}])"

    def _lambda(self, node: ast.Lambda) -> str:
        names = [each.arg for each in node.args.args]
        with self.knowing(names):
            return f"(({', '.join(map(local, names))}) => {self.of(node.body)})"

    def _namedexpr(self, node: ast.NamedExpr) -> str:
        return f"({local(node.target.id)} = {self.of(node.value)})"

    @contextmanager
    def knowing(self, names: Iterable[str]) -> Iterator[None]:
        """Take names for variables while what is inside is translated."""
        before = self.locals
        self.locals = before | set(names)
        yield
        self.locals = before

    def _generated(self, node: ast.ListComp | ast.SetComp | ast.GeneratorExp, what: str) -> str:
        names = [
            name.id
            for each in node.generators
            for name in ast.walk(each.target)
            if isinstance(name, ast.Name)
        ]
        with self.knowing(names):
            head = "".join(
                f"for (const {self.target(each.target)} of {self.of(each.iter)}) "
                + "".join(f"if ({self.truth(test)}) " for test in each.ifs)
                for each in node.generators
            )
            return f"(function* () {{ {head}yield {what or self.of(node.elt)}; }})()"

    def _generatorexp(self, node: ast.GeneratorExp) -> str:
        return self._generated(node, "")

    def _listcomp(self, node: ast.ListComp) -> str:
        return f"[...{self._generated(node, '')}]"

    def _setcomp(self, node: ast.SetComp) -> str:
        return f"py.set({self._generated(node, '')})"

    def _dictcomp(self, node: ast.DictComp) -> str:
        pair = ast.Tuple([node.key, node.value], ast.Load())
        made = ast.GeneratorExp(pair, node.generators)
        return f"py.dict({self._generated(made, '')})"

    def target(self, node: ast.expr) -> str:
        """Translate what a value is bound to."""
        if isinstance(node, ast.Name):
            return local(node.id)
        if isinstance(node, ast.Tuple | ast.List):
            return f"[{', '.join(self.target(each) for each in node.elts)}]"
        if isinstance(node, ast.Starred):
            return f"...{self.target(node.value)}"
        if isinstance(node, ast.Attribute):
            return f"{self.of(node.value)}.{node.attr}"
        raise self.refused(node)

    def _call(self, node: ast.Call) -> str:
        meaning = self.meaning(node.func)
        keywords = self._keywords(node, meaning)
        values = self.items(_without_examples(node.args) if _is_rule(meaning) else node.args)
        if isinstance(meaning, Outside):
            last = [f"py.keywords({{{keywords}}})"] if keywords else []
            return f"{self.named(meaning)}({', '.join([*filter(None, [values]), *last])})"
        func = node.func
        if meaning is None and isinstance(func, ast.Attribute):
            owner = self.of(func.value)
            if func.attr in METHODS:
                return f'py.method({owner}, "{func.attr}", [{values}])'
            if keywords:
                return f'py.called_on({owner}, "{func.attr}", [{values}], {{{keywords}}})'
            return f"{owner}.{func.attr}({values})"
        if keywords:
            return f"py.called({self.of(func)}, [{values}], {{{keywords}}})"
        return f"{self.of(func)}({values})"

    def _keywords(self, node: ast.Call, meaning: Meaning | None) -> str:
        made = []
        for each in node.keywords:
            if each.arg is None:
                made.append(f"...py.fields({self.of(each.value)})")
            elif _is_rule(meaning) and each.arg in _TEXTS_OF_RULES:
                made.append(f'{each.arg}: ""')
            else:
                made.append(f"{each.arg}: {self.of(each.value)}")
        return ", ".join(made)
