"""The translation of the rules: what it cannot say the same way, it refuses."""

import ast

import pytest

from generator.records.checking import rule_modules
from generator.records.library import Filed
from generator.site.translated.definitions import models, readers
from generator.site.translated.names import Text, Untranslatable
from generator.site.translated.program import live_rules, script
from generator.site.translated.statements import Statements


def translated(code: str) -> str:
    tree = ast.parse(code)
    names = {node.name: node for node in tree.body if isinstance(node, ast.FunctionDef)}
    return Statements(Text("here", dict(names), {})).block(tree.body)


@pytest.mark.parametrize(
    "code",
    [
        "with open('x') as f: pass",
        "x = [1, 2][::2]",
        "x = f'{1!r}'",
        "def f(**more): pass",
        "for x in (): pass\nelse: pass",
        "try: pass\nexcept: pass",
        "x = unheard_of",
        "x = 1 @ 2",
    ],
)
def test_what_has_no_translation_is_refused(code: str) -> None:
    with pytest.raises(Untranslatable):
        translated(code)


def test_a_definition_is_there_before_what_is_made_from_it() -> None:
    text = script()
    for name in ("quantities_units_UNITS", "records_words_Axle", "reading_fault_Severity"):
        made = text.index(f"const {name} =")
        first_use = text.index(name)
        assert first_use >= made


def test_every_rule_marked_live_is_in_the_script() -> None:
    wanted = {m.RULE.code for m in rule_modules() if m.RULE.is_live and hasattr(m, "check")}
    assert {code for code, _ in live_rules()} == wanted
    assert all(f'{{code: "{code}"' in script() for code in wanted)


def test_what_serves_the_cache_does_not_travel() -> None:
    assert "bearing" in vars(Filed)
    assert "bearing" not in script()
    assert "without_prose" not in script()


def test_the_same_text_gives_the_same_script() -> None:
    before = script()
    script.cache_clear()
    assert script() == before


def test_every_single_field_has_a_reader() -> None:
    known = {f"{module}.{name}" for module, name in readers()}
    for model in models().values():
        for field in model["fields"]:  # type: ignore[union-attr]
            assert isinstance(field, dict)
            assert field["inner"] or field["reader"] in known


def test_no_sentence_of_a_rules_page_travels_with_the_script() -> None:
    # The page of faults has them; the form links there.
    for module in rule_modules():
        assert module.RULE.mend not in script()
