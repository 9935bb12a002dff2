"""Issues as a forge writes them: headings of the form, `_No response_` where nothing was given."""

from itertools import pairwise
from pathlib import Path

import pytest
from markdown_it import MarkdownIt

from generator.cli import main
from generator.reading.reader import read
from generator.reading.source import load
from generator.records.examples import sample
from generator.records.setup import Setup
from generator.review.forge_forms import asked_fields, forge_files, skeleton
from generator.review.issue import LONGEST, answer, reported

FILLED = """### title

Sevens, lips rolled

### chassis

ostvane-meridel

### variant

_No response_

### car

copperbill-coupe

### member

Copperbill

### date

2025-06-14

### method

```yaml
springs: out  # in | out
links: off
tools: [clay]
load:  # 80 kg
```

### gaps

```yaml
- {site: strut-tube, side: both, state: static, gap: 9 mm, tool: feeler gauge}
```

### notes

Two lines:
it clears.
"""


def test_a_filled_form_is_a_record() -> None:
    found = reported(FILLED)
    assert found.remarks == ()
    assert found.path == "setups/ostvane-meridel/copperbill-coupe-2025-06-14.yaml"
    source, faults = load("x.yaml", found.text.encode())
    assert source is not None, faults
    left = {fault.headline for fault in read(Setup, source).faults}
    # What was not asked for or not given is missing, and nothing else is wrong.
    assert left == {"`front` is missing", "`rear` is missing"}
    assert "load" not in found.text
    assert "Two lines:\\nit clears." in found.text


def test_a_whole_sample_goes_through_the_form_and_back() -> None:
    source, _ = load("x.yaml", sample("setup").encode())
    assert source is not None
    parts, lines = [], sample("setup").split("\n")
    starts = [n for n, line in enumerate(lines) if line[:1].isalpha()] + [len(lines)]
    for begin, end in pairwise(starts):
        name, _, rest = lines[begin].partition(":")
        inner = "\n".join(line[2:] for line in lines[begin + 1 : end])
        body = rest.strip() if rest.strip() not in ("", "|") else f"```yaml\n{inner}\n```"
        if rest.strip() == "|":
            body = inner
        parts.append(f"### {name}\n\n{body}\n")
    found = reported("\n".join(parts))
    assert found.remarks == ()
    again, faults = load("y.yaml", found.text.encode())
    assert again is not None, faults
    before, after = read(Setup, source).value, read(Setup, again).value
    assert after is not None
    assert before is not None
    assert after.model_copy(update={"notes": None}) == before.model_copy(update={"notes": None})


def test_every_heading_of_the_form_is_known_to_the_reader() -> None:
    form, _ = load("form.yml", forge_files()[".gitlab/issue_templates/record.md"].encode())
    assert form is None  # it is Markdown
    for path in (".github/ISSUE_TEMPLATE/record.yml", ".gitlab/issue_templates/record.md"):
        text = forge_files()[path]
        for name in asked_fields():
            assert f"label: {name}\n" in text or f"### {name}\n" in text


def test_a_form_of_markdown_left_as_it_is_asks_for_the_name() -> None:
    found = reported(forge_files()[".gitlab/issue_templates/record.md"])
    assert found.path is None
    assert {remark.split("`")[1] for remark in found.remarks} == {"chassis", "car", "date"}


def test_an_empty_group_is_left_out() -> None:
    text = FILLED + f"\n### front\n\n```yaml\n{skeleton(Setup.model_fields['front'].annotation)}```"
    assert "front" not in reported(text).text


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (("### chassis", "### Chassis!"), "is no part of the form"),
        (("### chassis", "chassis"), "`chassis` is ``"),
        (("### notes", "### upload\n\n![x](https://example.org/x.jpg)\n\n### notes"), "upload"),
        (("### notes", "### title"), "stands there twice"),
        (("links: off", "links: [off"), "cannot be read"),
        (("links: off", "links: &a off"), "an anchor or alias"),
        (("- {site: strut-tube, side: both, state: static, gap: 9 mm, tool: feeler gauge}",
          "9 mm"), "is a list"),
        (("2025-06-14", "14 June"), "`date` is `14 June`"),
        (("ostvane-meridel", "../../etc"), "`chassis` is `../../etc`"),
        (("copperbill-coupe", "-rf $(x)"), "`car` is `-rf $(x)`"),
    ],
)  # fmt: skip
def test_what_cannot_be_read_is_answered(change: tuple[str, str], told: str) -> None:
    assert change[0] in FILLED
    found = reported(FILLED.replace(*change))
    assert any(told in remark for remark in found.remarks), found.remarks


@pytest.mark.parametrize(
    "body",
    ["", "\0", "### ", "### front\n" + "[" * 9000, "```", "<!--", "x" * (LONGEST + 1),
     "### method\n\n```yaml\na: &b [*b]\n```", "### title\n\n\ud800", "### notes\n\n" + "#" * 5000,
     "### gaps\n\n- - - - - - - - - - - - - - -", "\r\n".join(["### title"] * 500)],
)  # fmt: skip
def test_hostile_bodies_are_answered_and_raise_nothing(body: str) -> None:
    found = reported(body)
    assert found.path is None
    assert found.remarks
    assert answer(found)


def test_an_answer_shows_words_of_others_as_words() -> None:
    odd = "<img src=x onerror=alert(1)> [x](javascript:y) | `z`"
    text = answer(reported(FILLED.replace("### notes", f"### {odd}")))
    html = MarkdownIt("commonmark", {"html": True}).render(text)
    assert "<img" not in html
    assert "<a " not in html


def test_one_bad_issue_does_not_stop_the_others(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    content = tmp_path / "guide"
    (content / "chassis").mkdir(parents=True)
    (content / "chassis/ostvane-meridel.yaml").write_text(sample("chassis"), "utf-8")
    good, bad, odd = (tmp_path / name for name in ("good.md", "bad.md", "odd.md"))
    good.write_text(FILLED, "utf-8")
    bad.write_text("hello", "utf-8")
    odd.write_text(FILLED.replace("ostvane-meridel", "no-such-car"), "utf-8")
    status = main(["from-issue", str(bad), str(good), str(odd), "--into", str(content)])
    assert status == 1
    told = capsys.readouterr().out
    assert "No record could be made" in told
    assert "no chassis sheet" in told
    made = content / "setups/ostvane-meridel/copperbill-coupe-2025-06-14.yaml"
    assert made.read_text("utf-8").startswith("title:")
    assert not (content / "setups/no-such-car").exists()
    made.write_text("kept", "utf-8")
    assert main(["from-issue", str(good), "--into", str(content)]) == 1
    assert made.read_text("utf-8") == "kept"
