"""The script that judges a record in the browser: all live rules and all that they need.

A rule is live where its `RULE` says so; nothing is listed here. The order of the script's
definitions is that of need, so that each is there when another is made from it.
"""

import ast
import json
import unicodedata
from functools import cache
from itertools import pairwise, starmap

from generator.published import tables
from generator.reading.text import first_hidden
from generator.records.checking import rule_modules
from generator.site.translated.definitions import readers
from generator.site.translated.names import Definition, Text, text_of
from generator.site.translated.statements import translated

_READING = {
    "generator.quantities.units": ("Dimension", "CANONICAL"),
    "generator.quantities.misread": ("Misread",),
    "generator.reading.fault": ("Severity", "has_error"),
    "generator.reading.fields": ("read_slug",),
    "generator.reading.reader": ("_fault", "_remarks"),
    "generator.reading.source": ("Scalar", "Mapping", "Sequence"),
    "generator.reading.text": ("shown",),
    "generator.reading.writing": ("to_yaml",),
    "generator.records.library": ("Case", "Filed"),
    "generator.records.stance": ("fitted_stance", "stock_stance"),
}
"""What the form itself uses: the words of faults, YAML, and where wheels stand."""


@cache
def script() -> str:
    """Write the script: a module whose one function makes the rules from the library `py`."""
    roots = [Definition(m, name) for m, names in _READING.items() for name in names]
    roots += [Definition("generator.records.words", name) for name in _words()]
    roots += [each for each in starmap(Definition, readers()) if each not in roots]
    checks = live_rules()
    roots += [Definition(module, name) for _, module in checks for name in ("RULE", "check")]
    ordered: dict[Definition, str] = {}
    for root in roots:
        _add(root, ordered, set())
    body = "\n".join(ordered.values())
    rules = ", ".join(
        f"{{code: {json.dumps(code)}, check: {Definition(module, 'check').script_name}}}"
        for code, module in checks
    )
    named = ", ".join(
        f"{json.dumps(root.name)}: {root.script_name}"
        for root in roots
        if root.name not in ("RULE", "check")
    )
    data = json.dumps(_tables(tuple(ordered)), ensure_ascii=True, separators=(",", ":"))
    return (
        "// Made by the guide from the readers and rules of its records.\n"
        f"export const tables = {data};\nexport const letters = {json.dumps(_letters())};\n"
        f"export const made = (py) => {{\n{body}\nreturn {{rules: [{rules}], {named}}};\n}};\n"
    )


def live_rules() -> tuple[tuple[str, str], ...]:
    """Give code and module of each live rule that looks at a setup."""
    return tuple(
        (module.RULE.code, module.__name__)
        for module in rule_modules()
        if module.RULE.is_live and hasattr(module, "check")
    )


def _letters() -> dict[str, str]:
    """Name the characters that a line of text may not hide; a browser has no names for them."""
    signs = [sign for sign in map(chr, range(0x10000)) if first_hidden(sign) is not None]
    return {sign: unicodedata.name(sign, "") for sign in signs}


def _words() -> tuple[str, ...]:
    """Name the enumerations that fields of a record choose from."""
    text: Text = text_of("generator.records.words")
    return tuple(name for name, node in text.definitions.items() if isinstance(node, ast.ClassDef))


def _add(definition: Definition, ordered: dict[Definition, str], above: set[Definition]) -> None:
    if definition in ordered or definition in above:
        return
    made, needed = translated(definition)
    for each in needed:
        _add(each, ordered, above | {definition})
    ordered.setdefault(definition, made)


def _tables(definitions: tuple[Definition, ...]) -> dict[str, dict[str, object]]:
    """Give the published tables that the definitions look into, by source and name."""
    known = {(each.source.lower(), each.name): each for each in tables.published_tables()}
    found: dict[str, dict[str, object]] = {}
    for definition in definitions:
        node = text_of(definition.module).definitions[definition.name]
        for each in ast.walk(node):
            for pair in pairwise(ast.iter_child_nodes(each)):
                place = tuple(part.value for part in pair if isinstance(part, ast.Constant))
                if place in known:
                    source, name = str(place[0]), str(place[1])
                    rows = tables.rows(source, name)
                    listed = [[key, rows[key]] for key in rows] if hasattr(rows, "keys") else rows
                    title = known[source, name].title
                    found.setdefault(source, {})[name] = {"title": title, "rows": listed}
    return {source: dict(sorted(found[source].items())) for source in sorted(found)}
