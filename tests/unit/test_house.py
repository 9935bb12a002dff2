"""The house rules: what DEVELOPERS.md says of the rooms, made to fail when it stops being true."""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "generator"
ROOMS = (
    "frozen", "quantities", "geometry", "reading", "cache", "published", "records", "assessment",
    "evidence", "site", "rendering", "review",
)  # fmt: skip
GEOMETRY_SEES = {"frozen", "quantities", "geometry", "math", "numpy"}
HOMES = {
    "pint": {"quantities/units.py"},
    "yaml": {"reading/source.py", "published/tables.py"},
    "jinja2": {"rendering/environment.py"},
    "markupsafe": {
        "rendering/environment.py",
        "rendering/filters.py",
        "rendering/prose.py",
        "rendering/together.py",
    },
    "htmlmin": {"rendering/environment.py"},
    "markdown_it": {"rendering/prose.py"},
    "PIL": {"reading/pictures/pixels.py"},
    "matplotlib": {"rendering/charts.py"},
}
TOP_LEVEL = {
    "README.md", "DEVELOPERS.md", "pyproject.toml", "generator", "content_demo", "templates",
    "tests", "site_output",
}  # fmt: skip
VAGUE = {"utils", "util", "common", "helpers", "helper", "core", "misc", "manager", "stuff"}
LONGEST_FILE = 400
LONGEST_BODY = 50


def modules() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


@cache
def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text("utf-8"))


def name(path: Path) -> str:
    return path.relative_to(PACKAGE).as_posix()


def imported(path: Path) -> Iterator[tuple[str, bool]]:
    """Give each imported module, and whether only the type checker imports it."""
    for_types = set()
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.If) and getattr(node.test, "id", "") == "TYPE_CHECKING":
            for_types |= {id(inner) for inner in ast.walk(node)}
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, id(node) in for_types
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module, id(node) in for_types


def functions(path: Path) -> Iterator[ast.FunctionDef]:
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.FunctionDef):
            yield node


def body_lines(function: ast.FunctionDef) -> int:
    first = function.body[0]
    if isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant):
        rest = function.body[1:]
        return (function.end_lineno or 0) - rest[0].lineno + 1 if rest else 0
    return (function.end_lineno or 0) - first.lineno + 1


@pytest.mark.parametrize("path", modules(), ids=name)
def test_imports_go_leftward_only(path: Path) -> None:
    parts = name(path).split("/")
    if len(parts) == 1:
        return
    room = parts[0]
    for module, _ in imported(path):
        if not module.startswith("generator."):
            continue
        other = module.split(".")[1]
        assert other in ROOMS, f"{name(path)} imports {module}"
        if room == "geometry":
            assert other in GEOMETRY_SEES, f"{name(path)} imports {module}"
        elif other == "geometry":
            assert ROOMS.index(room) >= ROOMS.index("records"), f"{name(path)} imports {module}"
        else:
            assert ROOMS.index(other) <= ROOMS.index(room), f"{name(path)} imports {module}"


@pytest.mark.parametrize("path", sorted((PACKAGE / "geometry").glob("*.py")), ids=name)
def test_geometry_knows_only_numbers(path: Path) -> None:
    allowed = GEOMETRY_SEES | {
        "generator", "dataclasses", "enum", "collections", "functools", "typing", "itertools",
        "datetime",
    }  # fmt: skip
    tops = {module.split(".")[0] for module, _ in imported(path)}
    assert tops <= allowed, tops - allowed


@pytest.mark.parametrize("path", modules(), ids=name)
def test_each_library_has_one_home(path: Path) -> None:
    for module, only_types in imported(path):
        home = HOMES.get(module.split(".")[0])
        if home and not only_types:
            assert name(path) in home, f"{name(path)} imports {module}"


def test_every_home_uses_its_library() -> None:
    for library, homes in HOMES.items():
        used = {
            name(path)
            for path in modules()
            for module, only_types in imported(path)
            if module.split(".")[0] == library and not only_types
        }
        if library != "markupsafe":
            assert used == homes, library


@pytest.mark.parametrize("path", modules(), ids=name)
def test_files_and_bodies_stay_short(path: Path) -> None:
    assert len(path.read_text("utf-8").splitlines()) <= LONGEST_FILE
    long = [f.name for f in functions(path) if body_lines(f) > LONGEST_BODY]
    assert not long, long


def test_templates_styles_and_scripts_stay_short() -> None:
    """A script or a style is read as a module is."""
    lines = {
        path.relative_to(ROOT).as_posix(): len(path.read_text("utf-8").splitlines())
        for path in sorted((ROOT / "templates").rglob("*.*"))
    }
    assert sum(each.endswith(".js") for each in lines) > 40
    assert {each for each, count in lines.items() if count > LONGEST_FILE} == set()


@pytest.mark.parametrize("path", modules(), ids=name)
def test_names_say_what_a_module_is(path: Path) -> None:
    assert path.stem not in VAGUE


@pytest.mark.parametrize("path", modules(), ids=name)
def test_only_the_command_prints(path: Path) -> None:
    if name(path) in {"cli.py", "build_verb.py"}:
        return
    calls = [n for n in ast.walk(tree(path)) if isinstance(n, ast.Call)]
    assert not [n for n in calls if isinstance(n.func, ast.Name) and n.func.id == "print"]


@pytest.mark.parametrize("path", modules(), ids=name)
def test_nothing_is_caught_unnamed(path: Path) -> None:
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.ExceptHandler):
            caught = ast.unparse(node.type) if node.type else "everything"
            # Cleaning up and passing the same exception on is not catching it.
            passed_on = isinstance(node.body[-1], ast.Raise)
            broad = caught in ("everything", "Exception", "BaseException")
            assert passed_on or not broad, name(path)


KERNELS = [path for path in sorted((PACKAGE / "geometry").glob("*.py")) if path.stem != "__init__"]


@pytest.mark.parametrize("path", KERNELS, ids=name)
def test_public_kernels_name_their_source(path: Path) -> None:
    from generator.published.tables import sources

    known = {source.key for source in sources()}
    for node in tree(path).body:
        if not isinstance(node, ast.FunctionDef) or node.name.startswith("_"):
            continue
        text = ast.get_docstring(node) or ""
        assert "Source:" in text, f"{name(path)}: {node.name}"
        after = text.split("Source:", 1)[1]
        keys = re.findall(r"\[([A-Z][A-Za-z0-9.-]*)\]", after)
        assert keys or "own derivation" in after, f"{name(path)}: {node.name}"
        assert set(keys) <= known, set(keys) - known


@pytest.mark.parametrize("path", KERNELS, ids=name)
def test_public_kernels_take_units_not_bare_floats(path: Path) -> None:
    for node in tree(path).body:
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            arguments = node.args.args + node.args.kwonlyargs
            hints = [ast.unparse(a.annotation) for a in arguments if a.annotation]
            hints.append(ast.unparse(node.returns) if node.returns else "")
            bare = [hint for hint in hints if re.search(r"\b(float|Any|dict)\b", hint)]
            bare = [hint for hint in bare if "NDArray" not in hint]
            assert not bare or node.name == "round_half_up", f"{name(path)}: {node.name} {bare}"


def test_every_field_of_a_record_has_help_and_example() -> None:
    from pydantic import BaseModel

    from generator.reading.fields import declared
    from generator.reading.pruning import inner_model
    from generator.records.article import ArticleHead
    from generator.records.chassis import Chassis
    from generator.records.club import Club
    from generator.records.setup import Setup

    waiting: list[type[BaseModel]] = [Club, Chassis, Setup, ArticleHead]
    seen = set()
    while waiting:
        model = waiting.pop()
        if model in seen:
            continue
        seen.add(model)
        for field, info in model.model_fields.items():
            inner = inner_model(info)
            says = declared(info)
            assert says.help, f"{model.__name__}.{field}"
            if inner:
                waiting.append(inner)
            else:
                long_text = field in ("about", "local_rules", "notes", "cautions", "build_changes")
                assert says.example or long_text, f"{model.__name__}.{field}"


def test_views_and_templates_are_pairs() -> None:
    views = {path.stem for path in (PACKAGE / "site" / "views").glob("*.py")} - {"__init__"}
    pages = {path.stem for path in (ROOT / "templates" / "pages").glob("*.html")}
    assert views == pages


def test_diagrams_and_templates_are_pairs() -> None:
    folder = PACKAGE / "rendering" / "diagrams"
    diagrams = {path.stem for path in folder.glob("*.py")} - {"__init__"}
    drawn = {path.stem for path in (ROOT / "templates" / "diagrams").glob("*.svg")}
    assert diagrams == drawn


def test_rooms_are_in_the_map() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    for folder in sorted(p for p in PACKAGE.rglob("*") if p.is_dir() and p.name != "__pycache__"):
        if any(folder.glob("*.py")) or folder.name == "sample":
            assert f"`{name(folder)}/`" in text, f"{name(folder)}/ is not in DEVELOPERS.md"


def test_top_level_is_what_it_says() -> None:
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert found <= TOP_LEVEL | {"dist", "build"}, found - TOP_LEVEL
    assert found >= TOP_LEVEL


def test_site_output_is_kept_empty() -> None:
    listed = subprocess.run(
        ["git", "ls-files", "site_output"], cwd=ROOT, capture_output=True, text=True, check=False
    )
    if listed.returncode == 0 and listed.stdout:
        assert listed.stdout.split() == ["site_output/.gitignore"]


@pytest.mark.parametrize("pattern", [r"\bTODO\b", r"\bFIXME\b", r"\bXXX\b"])
def test_nothing_is_left_for_later(pattern: str) -> None:
    for folder in ("generator", "templates", "content_demo"):
        for path in (ROOT / folder).rglob("*"):
            if path.is_file() and path.suffix in {".py", ".html", ".css", ".js", ".svg", ".md"}:
                assert not re.search(pattern, path.read_text("utf-8")), path


def _tool(*words: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", *words]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)


def test_ruff_finds_nothing() -> None:
    result = _tool("ruff", "check", "generator", "tests")
    assert result.returncode == 0, result.stdout + result.stderr


def test_ruff_would_format_nothing() -> None:
    result = _tool("ruff", "format", "--check", "generator", "tests")
    assert result.returncode == 0, result.stdout + result.stderr


def test_types_are_strict() -> None:
    result = _tool("mypy")
    assert result.returncode == 0, result.stdout + result.stderr


COUNTING = {
    "cache/store.py", "gists.py", "site/views/find.py", "site/views/home.py",
    "evidence/held_out.py", "evidence/remedies.py", "geometry/sampling.py",
    "reading/report.py",
    "records/checks/same_numbers.py", "records/checks/wheel_side_gaps.py", "rendering/output.py",
    "rendering/spare.py", "review/review.py", "site/facets.py", "site/views/tyre_book.py",
    "site/trim_table.py",
}  # fmt: skip


@pytest.mark.parametrize("path", modules(), ids=name)
def test_floats_are_summed_the_same_way_by_every_python(path: Path) -> None:
    # The built-in sum of floats rounds otherwise from Python 3.12 on; math.fsum never differs.
    # The files named above add whole numbers.
    calls = [node for node in ast.walk(tree(path)) if isinstance(node, ast.Call)]
    names = {call.func.id for call in calls if isinstance(call.func, ast.Name)}
    assert ("sum" in names) == (name(path) in COUNTING)
