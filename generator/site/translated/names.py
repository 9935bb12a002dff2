"""What a name of the code stands for: a definition, a module, or something from outside.

The rules of records are translated for the browser from their own text. This module reads that
text, and follows a name through imports to where it is defined.
"""

import ast
import builtins
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import TypeAlias

from generator.frozen import dataclass

_PACKAGE = "generator."


class Untranslatable(ValueError):
    """A piece of code that has no translation; its text says which and where."""


@dataclass(frozen=True, order=True)
class Definition:
    """A function, class or constant at the top of a module."""

    module: str
    name: str

    @property
    def script_name(self) -> str:
        """The name it has in the script."""
        room, _, stem = self.module.removeprefix(_PACKAGE).rpartition(".")
        return f"{room.rpartition('.')[2]}_{stem}_{self.name}".lstrip("_")


@dataclass(frozen=True)
class Room:
    """A module that is used by its name, such as `tables` in `tables.top_speed`."""

    module: str


@dataclass(frozen=True)
class Outside:
    """A name of Python itself or of its library, which the script's own library answers for."""

    name: str


Meaning: TypeAlias = Definition | Room | Outside


@dataclass(frozen=True)
class Text:
    """One module: its statements by the names they define, and what it imports."""

    name: str
    definitions: dict[str, ast.stmt]
    imports: dict[str, tuple[str, str]]
    """The module and the name in it; an empty name where the module itself is meant."""

    def meaning(self, name: str) -> Meaning:
        """Follow a name to what it stands for. Raises Untranslatable for an unknown one."""
        if name in self.definitions:
            return Definition(self.name, name)
        if name in self.imports:
            return imported(*self.imports[name])
        if hasattr(builtins, name):
            return Outside(name)
        raise Untranslatable(f"{self.name}: what is `{name}`?")


def imported(module: str, name: str) -> Meaning:
    """Follow an imported name to what it stands for."""
    if not module.startswith(_PACKAGE):
        return Outside(f"{module}.{name}" if module == "re" and name else name or module)
    if not name:
        return Room(module)
    inner = f"{module}.{name}"
    file = find_spec(module)
    if file is not None and file.submodule_search_locations and find_spec(inner) is not None:
        return Room(inner)
    return text_of(module).meaning(name)


@cache
def text_of(module: str) -> Text:
    """Read the text of a module of the guide."""
    spec = find_spec(module)
    if spec is None or spec.origin is None:
        raise Untranslatable(f"there is no module `{module}`")
    tree = ast.parse(Path(spec.origin).read_text("utf-8"))
    definitions: dict[str, ast.stmt] = {}
    imports: dict[str, tuple[str, str]] = {}
    for node in tree.body:
        imports |= imports_of(node)
        for name in _defined(node):
            definitions[name] = node
    return Text(module, definitions, imports)


def imports_of(node: ast.stmt) -> dict[str, tuple[str, str]]:
    """Give the names that an import statement binds."""
    if isinstance(node, ast.ImportFrom) and node.module:
        return {each.asname or each.name: (node.module, each.name) for each in node.names}
    if isinstance(node, ast.Import):
        return {each.asname or each.name: (each.name, "") for each in node.names}
    return {}


def _defined(node: ast.stmt) -> tuple[str, ...]:
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        return (node.name,)
    if isinstance(node, ast.Assign):
        named = (each for target in node.targets for each in ast.walk(target))
        return tuple(each.id for each in named if isinstance(each, ast.Name))
    if isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name) and node.value:
        return (node.target.id,)
    return ()
