"""Statements, functions and classes of Python written in JavaScript."""

import ast
import json
from collections.abc import Iterator, Sequence

from generator.site.translated.expressions import Expressions, local
from generator.site.translated.names import Definition, Outside, Text, imported, imports_of, text_of

_TUPLES = "NamedTuple"


def bound(nodes: Sequence[ast.stmt]) -> Iterator[str]:
    """Name the variables that statements bind, those of inner functions left out."""
    for node in nodes:
        if isinstance(node, ast.FunctionDef):
            continue
        for each in _own(node):
            if isinstance(each, ast.Name) and isinstance(each.ctx, ast.Store):
                yield each.id
            elif isinstance(each, ast.ExceptHandler) and each.name:
                yield each.name


def _own(node: ast.AST) -> Iterator[ast.AST]:
    """Walk a statement but for the targets of comprehensions and what lambdas bind."""
    yield node
    for child in ast.iter_child_nodes(node):
        if isinstance(node, ast.comprehension) and child is node.target:
            continue
        if not isinstance(child, ast.Lambda | ast.FunctionDef):
            yield from _own(child)


def _yields(function: ast.FunctionDef) -> bool:
    return any(
        isinstance(each, ast.Yield | ast.YieldFrom)
        for statement in function.body
        for each in _own(statement)
    )


class Statements(Expressions):
    """Translates the statements of one module."""

    def block(self, nodes: Sequence[ast.stmt]) -> str:
        """Translate a row of statements."""
        return "\n".join(filter(None, map(self.statement, nodes)))

    def statement(self, node: ast.stmt) -> str:
        """Translate one statement; what only checks types or explains gives nothing."""
        if isinstance(node, ast.Pass | ast.Assert | ast.ImportFrom | ast.Import):
            return ""
        translate = getattr(self, f"_do_{type(node).__name__.lower()}", None)
        if translate is None:
            raise self.refused(node)
        return str(translate(node))

    def _do_expr(self, node: ast.Expr) -> str:
        if isinstance(node.value, ast.Constant):
            return ""
        return f"{self.of(node.value)};"

    def _yield(self, node: ast.Yield) -> str:
        return f"yield {'null' if node.value is None else self.of(node.value)}"

    def _yieldfrom(self, node: ast.YieldFrom) -> str:
        return f"yield* {self.of(node.value)}"

    def _do_return(self, node: ast.Return) -> str:
        return f"return {'null' if node.value is None else self.of(node.value)};"

    def _do_raise(self, node: ast.Raise) -> str:
        return f"throw {'$error' if node.exc is None else self.of(node.exc)};"

    def _do_break(self, _: ast.Break) -> str:
        return "break;"

    def _do_continue(self, _: ast.Continue) -> str:
        return "continue;"

    def _do_assign(self, node: ast.Assign) -> str:
        value = self.of(node.value)
        if len(node.targets) == 1 and isinstance(node.targets[0], ast.Subscript):
            at = node.targets[0]
            return f"py.put({self.of(at.value)}, {self.of(at.slice)}, {value});"
        # A line that begins with a bracket would be read as a part of the line before it.
        return f"({' = '.join([*map(self.target, node.targets), value])});"

    def _do_annassign(self, node: ast.AnnAssign) -> str:
        return f"{self.target(node.target)} = {self.of(node.value)};" if node.value else ""

    def _do_augassign(self, node: ast.AugAssign) -> str:
        if not isinstance(node.target, ast.Name | ast.Attribute):
            raise self.refused(node)
        name = ast.Name(node.target.id, ast.Load()) if isinstance(node.target, ast.Name) else None
        old = name or ast.Attribute(node.target.value, node.target.attr, ast.Load())  # type: ignore[union-attr]
        return f"{self.target(node.target)} = {self.of(ast.BinOp(old, node.op, node.value))};"

    def _do_if(self, node: ast.If) -> str:
        other = f" else {{\n{self.block(node.orelse)}\n}}" if node.orelse else ""
        return f"if ({self.truth(node.test)}) {{\n{self.block(node.body)}\n}}{other}"

    def _do_for(self, node: ast.For) -> str:
        if node.orelse:
            raise self.refused(node, "a loop with an else")
        head = f"for ({self.target(node.target)} of {self.of(node.iter)})"
        return f"{head} {{\n{self.block(node.body)}\n}}"

    def _do_while(self, node: ast.While) -> str:
        if node.orelse:
            raise self.refused(node, "a loop with an else")
        return f"while ({self.truth(node.test)}) {{\n{self.block(node.body)}\n}}"

    def _do_try(self, node: ast.Try) -> str:
        if node.orelse or node.finalbody:
            raise self.refused(node, "an attempt with more than handlers")
        made = "throw $error;"
        for handler in reversed(node.handlers):
            if handler.type is None:
                raise self.refused(handler, "a handler of everything")
            binds = f"{local(handler.name)} = $error;\n" if handler.name else ""
            test = f"py.isinstance($error, {self.of(handler.type)})"
            made = f"if ({test}) {{\n{binds}{self.block(handler.body)}\n}} else {{\n{made}\n}}"
        return f"try {{\n{self.block(node.body)}\n}} catch ($error) {{\n{made}\n}}"

    def _do_functiondef(self, node: ast.FunctionDef) -> str:
        return self.function(node, f"function{'*' if _yields(node) else ''} {local(node.name)}")

    def function(self, node: ast.FunctionDef, head: str, *, is_method: bool = False) -> str:
        """Translate a function; `head` is what stands before its parameters."""
        arguments = node.args
        if arguments.kwarg or (arguments.vararg and arguments.kwonlyargs):
            raise self.refused(node, "parameters that take any name")
        given = parameters(node)[is_method:]
        rest = [arguments.vararg.arg] if arguments.vararg else []
        own = set(bound(node.body)) - {*given, *rest}
        inner = {each.name for each in node.body if isinstance(each, ast.FunctionDef)}
        defaults = self._defaults(node)
        before = self.imports
        for each in ast.walk(node):
            if isinstance(each, ast.ImportFrom | ast.Import):
                found = {name: imported(*way) for name, way in imports_of(each).items()}
                self.imports = self.imports | found
        with self.knowing({*given, *rest, *own, *inner, *(["self"] if is_method else [])}):
            body = self.block(node.body)
        self.imports = before
        shown = [f"{local(n)} = {defaults[n]}" if n in defaults else local(n) for n in given]
        shown += [f"...{local(name)}" for name in rest]
        lines = [
            "const self = this;" if is_method else "",
            f"let {', '.join(map(local, sorted(own)))};" if own else "",
            body,
        ]
        return f"{head}({', '.join(shown)}) {{\n" + "\n".join(filter(None, lines)) + "\n}"

    def _defaults(self, node: ast.FunctionDef) -> dict[str, str]:
        names = [each.arg for each in (*node.args.posonlyargs, *node.args.args)]
        values = node.args.defaults
        found = dict(zip(names[len(names) - len(values) :], values, strict=True))
        named = zip(node.args.kwonlyargs, node.args.kw_defaults, strict=True)
        found |= {each.arg: value for each, value in named if value is not None}
        return {name: self.of(value) for name, value in found.items()}

    def definition(self, name: str) -> str:
        """Translate a definition at the top of the module."""
        node = self.text.definitions[name]
        made = Definition(self.text.name, name).script_name
        if isinstance(node, ast.FunctionDef):
            head = f"function{'*' if _yields(node) else ''} {made}"
            known = f"{made}.parameters = {json.dumps(parameters(node))};"
            return f"{self.function(node, head)}\n{known}"
        if isinstance(node, ast.ClassDef):
            return f"const {made} = {self.kind(node)};"
        if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Tuple):
            names = [each.id for each in node.targets[0].elts if isinstance(each, ast.Name)]
            return f"const {made} = py.at({self.of(node.value)}, {names.index(name)});"
        if isinstance(node, ast.Assign | ast.AnnAssign) and node.value is not None:
            return f"const {made} = {self.of(node.value)};"
        raise self.refused(node)

    def kind(self, node: ast.ClassDef) -> str:
        """Translate a class: a model of records, an enumeration, an error or a frozen value."""
        bases = [self.meaning(base) for base in node.bases if isinstance(base, ast.Name)]
        if any(isinstance(base, Definition) and is_model(base) for base in bases):
            return f"py.model({json.dumps(node.name)})"
        names = [base.name for base in bases if isinstance(base, Outside)]
        if "Enum" in names:
            members = [
                f"[{json.dumps(target.id)}, {self.of(each.value)}]"
                for each in node.body
                if isinstance(each, ast.Assign)
                for target in each.targets
                if isinstance(target, ast.Name)
            ]
            head = f"{json.dumps(node.name)}, [{', '.join(members)}]"
            return f"py.enumeration({head}, {self._parts(node)})"
        fields = ", ".join(self._field(each) for each in node.body if _is_field(each))
        base = next((f"py.{name}" for name in names if name.endswith("Error")), "null")
        more = json.dumps({"isTuple": _TUPLES in names, "isPlain": not node.decorator_list})
        head = f"{json.dumps(node.name)}, [{fields}], {self._parts(node)}"
        return f"py.kind({head}, {base}, {more})"

    def _field(self, node: ast.stmt) -> str:
        assert isinstance(node, ast.AnnAssign)
        assert isinstance(node.target, ast.Name)
        value, is_compared = node.value, True
        if isinstance(value, ast.Call) and self.meaning(value.func) == Outside("field"):
            told = {each.arg: each.value for each in value.keywords}
            compare = told.get("compare")
            is_compared = not (isinstance(compare, ast.Constant) and compare.value is False)
            factory = told.get("default_factory")
            value = told.get("default") or (ast.Call(factory, [], []) if factory else None)
        default = f"() => {self.of(value)}" if value is not None else "null"
        return f"[{json.dumps(node.target.id)}, {default}, {json.dumps(is_compared)}]"

    def _parts(self, node: ast.ClassDef) -> str:
        """Translate the methods and properties of a class."""
        made = []
        for each in node.body:
            if not isinstance(each, ast.FunctionDef) or _is_of_the_cache(each):
                continue
            is_property = "property" in _marks(each)
            head = f"function{'*' if _yields(each) else ''} "
            said = self.function(each, head, is_method=True)
            names = json.dumps(parameters(each)[1:])
            made.append(f"[{json.dumps(each.name)}, {said}, {names}, {json.dumps(is_property)}]")
        return f"[{', '.join(made)}]"


def parameters(node: ast.FunctionDef) -> list[str]:
    """Name the parameters of a function in order, those that are only named last."""
    given = (*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs)
    return [each.arg for each in given]


def is_model(base: Definition) -> bool:
    """Tell whether a class is the base of the models of records, or one of them."""
    if base == Definition("generator.reading.fields", "Model"):
        return True
    node = text_of(base.module).definitions[base.name]
    inner = [each.id for each in getattr(node, "bases", ()) if isinstance(each, ast.Name)]
    found = [text_of(base.module).meaning(name) for name in inner]
    return any(isinstance(each, Definition) and is_model(each) for each in found)


def _marks(node: ast.FunctionDef) -> set[str]:
    return {mark.id for mark in node.decorator_list if isinstance(mark, ast.Name)}


def _is_of_the_cache(node: ast.FunctionDef) -> bool:
    """Tell whether a method serves what is kept on disk, which no script knows of."""
    return "cached_property" in _marks(node) or node.name == "__getstate__"


def _is_field(node: ast.stmt) -> bool:
    return isinstance(node, ast.AnnAssign)


def translated(definition: Definition) -> tuple[str, tuple[Definition, ...]]:
    """Translate one definition, and give those it needs."""
    text: Text = text_of(definition.module)
    writer = Statements(text)
    made = writer.definition(definition.name)
    return made, tuple(each for each in writer.needed if each != definition)
