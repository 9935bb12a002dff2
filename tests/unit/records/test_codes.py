"""What `gapbook why` says: every code, its page, and names near a slip."""

import pytest

from generator.records.codes import Code, all_codes, as_page, explain, nearest


@pytest.mark.parametrize("code", all_codes(), ids=lambda code: code.code)
def test_the_page_of_a_code_says_all_there_is(code: Code) -> None:
    page = as_page(code.code)
    assert page is not None
    joined = " ".join(page.split())
    assert page.startswith(f"{code.code}: {code.title}\n")
    assert " ".join(code.mend.split()) in joined
    assert ("This earns it:" in page) == bool(code.bad)
    assert page.isprintable() or all(sign.isprintable() or sign in "\n\t" for sign in page)
    assert code.severity in ("error", "warning", "note")


def test_codes_are_distinct_and_in_order() -> None:
    codes = [code.code for code in all_codes()]
    assert codes == sorted(set(codes))


def test_reader_notation_and_rules_are_all_there() -> None:
    assert {code.code[0] for code in all_codes()} >= set("YFQSNRL")


def test_a_rule_names_its_source() -> None:
    assert all(code.source for code in all_codes() if code.code[0] in "RL")


def test_a_code_that_does_not_exist_has_no_page_but_near_ones() -> None:
    assert as_page("F99") is None
    assert nearest("F99")
    assert all(code.startswith("F") for code in nearest("F0"))


def test_an_unknown_code_is_not_explained() -> None:
    with pytest.raises(KeyError):
        explain("X99")
