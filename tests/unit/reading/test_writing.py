"""YAML that the guide writes reads back to the same texts, here and in another YAML reader."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from yaml import safe_load

from generator.reading.source import Mapping, Node, Scalar, load
from generator.reading.text import first_forbidden
from generator.reading.writing import Plain, scalar, to_yaml

TEXTS = st.text(max_size=60).filter(lambda text: first_forbidden(text, newlines=True) is None)
NAMES = st.from_regex(r"[a-z]{1,8}(_[a-z]{1,6})?", fullmatch=True).filter(
    lambda name: name not in ("true", "false", "null")
)
LEAVES = TEXTS | st.text(
    st.sampled_from(" -:#'\"\n,[]{}&*!|>%@`~?=<0123456789.yesnoYN"), max_size=12
)
TREES = st.recursive(
    LEAVES,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(NAMES, inner, max_size=4),
    max_leaves=12,
)

TRICKY = (
    "", " ", " leading", "trailing ", "two\nlines", "\n", "ends with a line end\n", "yes", "No",
    "null", "~", "true", "on", "010", "12:30", "1e3", ".5", "5", "-1", "- a", "a: b", "a #b", "#a",
    '8" wide', "it's", "a\\b", "@a", "`a`", "%a", "!a", "&a", "*a", "|", ">", "?", "{a}", "[a]",
    "---", "...", "=1+1", "é 日本 🚗", "a\u202eb", "\u00a0", "\ufeffa", "2025-06-14", "<<", "a,b",
    "0x1F", "1_000", "0o17", "1.5e3", "5.", "9" * 400,
)  # fmt: skip


def plain(node: Node) -> Plain:
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Mapping):
        return {name: plain(value) for name, value in node.entries.items()}
    return [plain(item) for item in node.items]


def read_back(text: str) -> Plain:
    source, faults = load("x.yaml", text.encode("utf-8"))
    assert source is not None, (text, faults)
    return plain(source.root)


@pytest.mark.parametrize("text", TRICKY)
def test_a_tricky_text_reads_back_as_itself(text: str) -> None:
    assert read_back(to_yaml({"value": text})) == {"value": text}


@pytest.mark.parametrize("text", [text for text in TRICKY if text not in ("yes", "2025-06-14")])
def test_another_reader_takes_a_tricky_text_for_text(text: str) -> None:
    # PyYAML's own typing is that of YAML 1.1, the most eager one to make something else of a text.
    # `yes` and dates are written bare: here they are texts, and records read better so.
    assert safe_load(to_yaml({"value": text})) == {"value": text}


@given(TEXTS | LEAVES)
def test_any_text_reads_back_as_itself(text: str) -> None:
    assert read_back(to_yaml({"value": text, "list": [text, text]})) == {
        "value": text,
        "list": [text, text],
    }


@given(st.dictionaries(NAMES, TREES, min_size=1, max_size=5))
def test_any_record_reads_back_as_itself(record: dict[str, Plain]) -> None:
    assert read_back(to_yaml(record)) == record


@pytest.mark.parametrize("text", ["35 mm", "7 x 15", "M12x1.5", "195/60 R15 88V", "95 N·m", "no"])
def test_what_needs_no_quotes_gets_none(text: str) -> None:
    assert scalar(text) == text
