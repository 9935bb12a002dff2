"""Hostile texts: the numbers are rows of the project's list of hostile inputs."""

import html5lib
import pytest
from markupsafe import Markup

from generator.rendering.prose import (
    ARTICLE_LIMIT_BYTES,
    NOTE_LIMIT_BYTES,
    UnknownDrawing,
    article,
    is_allowed_link,
    note,
)
from tests.processor import at_most

ALLOWED_TAGS = {
    *("a", "blockquote", "br", "code", "div", "em", "hr", "li", "ol", "p", "pre", "strong", "ul"),
    *("h2", "h3", "h4", "h5", "h6"),
    *("span", "table", "tbody", "td", "th", "thead", "tr"),
}
ALLOWED_ATTRIBUTES = {
    "a": {"href", "title", "rel"},
    "div": {"class", "role", "aria-label", "tabindex"},
    "ol": {"start"},
    "span": {"class"},
    "table": {"role"},
    "td": {"class", "data-label"},
    "th": {"class"},
}


def elements(html):
    """All elements of a rendered text as a browser's parser sees them."""
    fragment = html5lib.parseFragment(str(html), namespaceHTMLElements=False)
    return [element for element in fragment.iter() if element is not fragment]


def text_of(html):
    return "".join(html5lib.parseFragment(str(html), namespaceHTMLElements=False).itertext())


def links(html):
    return [element.get("href") for element in elements(html) if element.tag == "a"]


HOSTILE = [
    "<script>alert(1)</script>",  # 40
    "<img src=x onerror=alert(1)>",  # 41
    "<svg onload=alert(1)><a xlink:href='javascript:alert(1)'>x</a></svg>",
    "<style>*{display:none}</style>",
    "<!-- --><iframe src='https://a.example'></iframe>",
    "[x](javascript:alert(1))",  # 42
    "[x](JaVaScRiPt:alert(1))",
    "[x](&#106;avascript:alert(1))",
    "[x](java&#x09;script:alert(1))",
    "[x](java%73cript:alert(1))",
    "<javascript:alert(1)>",
    "[x](data:text/html,<script>alert(1)</script>)",  # 43
    "[x](data:image/png;base64,AAAA)",
    "[x](blob:https://a.example/1)",
    "[x](ms-msdt:/id)",
    "[x](//host.example/a)",
    "[x](\\\\host.example/a)",
    "[x](http://a.example/)",
    "[x](vbscript:a) [x](file:///etc/passwd)",
    "[a]: javascript:alert(1)\n\n[a]",
    "![x](https://tracker.example/a.png)",  # 44
    "![x](data:image/png;base64,AAAA)",
    '[x](https://a.example "t\\" onmouseover=alert(1) y=\\"")',  # 45
    '```py" onmouseover="alert(1)\nx\n```',
    "{{ 7*7 }} {% include 'x' %} ${7*7}",  # 47
    "</script>\u2028</pre></div></main>",  # 48
    "\u202eabc (not closed)",  # 50
    "a" * 4000,  # 54
    "a" + "\u0301" * 500,
    "::error file=x::all good\n::add-mask::a",  # 55
    "| a | b |\n|--|--|\n| <b>x</b> | `|` |",  # 56
    "# one\n# two",
    "שלום 日本語 🙂",  # 62
]


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_notes_hold_only_plain_elements(text):
    for element in elements(note(text)):
        assert element.tag in ALLOWED_TAGS
        assert set(element.attrib) <= ALLOWED_ATTRIBUTES.get(element.tag, set())


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_articles_hold_only_plain_elements(text):
    for element in elements(article(text, lambda name: Markup("<hr>")).html):
        assert element.tag in ALLOWED_TAGS
        allowed = {"id"} if element.tag[0] == "h" else set()
        assert set(element.attrib) <= ALLOWED_ATTRIBUTES.get(element.tag, set()) | allowed


@pytest.mark.parametrize("text", [text for text in HOSTILE if "](" in text or "]:" in text])
def test_hostile_links_lead_nowhere(text):
    for address in links(note(text)):
        # only the https link with a hostile title, and the backslashes as a path of our own
        assert address in {"https://a.example", "%5Chost.example/a"}


def test_code_keeps_its_text_and_hangs_each_line_under_its_own_beginning():
    code = "gaps:\n  - {site: a}\n\n    note: <b> & c\n"
    made = next(iter(elements(note(f"```yaml\n{code}```"))))
    assert made.tag == "pre"
    assert "".join(made.itertext()) == code
    indents = [line[0].text or "" for line in made.iter("span") if len(line)]
    assert indents == ["", "  - ", "", "    "]


def test_a_table_of_many_words_names_the_column_in_each_cell():
    wordy = (
        "| tool | reads to | good for | where |\n|---|--:|---|---|\n| clay | 1 mm | **all** | `a` |"
    )
    figures = "| size | a | b | c |\n|---|--:|--:|--:|\n| 7 in | 1 | 2 | 3 |"
    labels = [
        [cell.get("data-label") for cell in elements(note(text)) if cell.tag == "td"]
        for text in (wordy, figures)
    ]
    assert labels == [["tool", "reads to", "good for", "where"], [None] * 4]


def test_markup_stays_readable_as_it_was_typed():
    assert text_of(note("<script>alert(1)</script>")).strip() == "<script>alert(1)</script>"
    assert "{{ 7" in text_of(note("{{ 7\\*7 }}"))
    assert "${7*7}" in text_of(note("`${7*7}`"))


@pytest.mark.parametrize(
    "address",
    [
        "https://example.org/a?b=c#d",
        "HTTPS://example.org",
        "mailto:club@example.org",
        "../setups/a/",
        "articles/a.html#on-x",
        "#on-x",
        "?flag=proven",
        "/guide/a",
        "a/b:c",
        "a?b=c:d",
    ],
)
def test_links_of_the_allow_list_pass(address):
    assert is_allowed_link(address)


@pytest.mark.parametrize(
    "address",
    [
        "",
        "http://example.org",
        "//example.org",
        "///example.org",
        "/\\example.org",
        "\\\\example.org",
        "https:///example.org",
        "https://",
        "https:example.org",
        "javascript:alert(1)",
        "JAVASCRIPT:alert(1)",
        " javascript:alert(1)",
        "java\tscript:alert(1)",
        "java\nscript:alert(1)",
        "\x01javascript:alert(1)",
        "javascript\u2028:alert(1)",
        "java%73cript:alert(1)",
        "data:image/png;base64,AA",
        "blob:https://example.org/1",
        "ms-msdt:/id",
        "tel:123",
        "mailto:",
        "mailto:a@example.org?bcc=b@example.org",
        "C:/a",
    ],
)
def test_every_other_address_is_refused(address):
    assert not is_allowed_link(address)


def test_outward_links_say_whose_they_are():
    [link] = [e for e in elements(note("[x](https://example.org)")) if e.tag == "a"]
    assert link.get("rel") == "nofollow noopener ugc"
    [inner] = [e for e in elements(note("[x](../a/)")) if e.tag == "a"]
    assert inner.get("rel") is None


def test_pictures_of_members_are_shown_as_their_words():
    assert text_of(note("![strut *left*](https://a.example/x.png)")) == "[picture: strut *left*]\n"
    assert "&lt;b&gt;" in str(note("![<b>](a.png)"))


@pytest.mark.parametrize(
    ("expected", "typed", "first"),
    [
        (["h3", "h3"], "# a\n\n# b", 3),
        (["h2", "h3", "h4", "h3"], "## a\n\n#### b\n\n###### c\n\n### d", 2),
        (["h3", "h3"], "### a\n\n# b", 3),
        (["h6", "h6"], "# a\n\n## b", 6),
    ],
)
def test_headings_begin_low_and_skip_no_level(expected, typed, first):
    assert [e.tag for e in elements(note(typed, first)) if e.tag[0] == "h"] == expected


def test_articles_list_their_headings_with_ids_of_their_own():
    told = article("# Stud *length*\n\n## Turns\n\n# Stud length", lambda name: Markup(""))
    assert [(h.level, h.text, h.ident) for h in told.headings] == [
        (2, "Stud length", "on-stud-length"),
        (3, "Turns", "on-turns"),
        (2, "Stud length", "on-stud-length--2"),
    ]
    ids = [e.get("id") for e in elements(told.html) if e.get("id")]
    assert ids == [h.ident for h in told.headings]


def test_an_article_asks_for_our_own_drawings_by_name():
    asked = []

    def drawing(name):
        asked.append(name)
        return Markup("<hr>")

    told = article("a\n\n```drawing offset-and-backspacing\n```\n\nb", drawing)
    assert asked == ["offset-and-backspacing"]
    assert [e.tag for e in elements(told.html)] == ["p", "hr", "p"]


def test_a_drawing_that_is_not_there_is_told_with_its_line():
    def drawing(name):
        raise KeyError(name)

    with pytest.raises(UnknownDrawing, match="no drawing is called `strut`") as caught:
        article("a\n\n```drawing strut\n```", drawing)
    assert caught.value.line == 3


@pytest.mark.parametrize(
    "text",
    ["```drawing ../x\n```", "```drawing A\n```", "```drawing\n```", "- ```drawing a\n  ```"],
)
def test_other_fenced_blocks_are_code(text):
    def drawing(name):
        raise AssertionError(name)

    assert {"pre", "code"} <= {e.tag for e in elements(article(text, drawing).html)}


def test_notes_have_no_drawings():
    tags = [e.tag for e in elements(note("```drawing offset\n```"))]
    assert tags == ["pre", "code"]


def test_tables_need_no_inline_style():
    html = note("| a | b |\n|:--|--:|\n| 1 | 2 |")
    assert "style=" not in html
    assert [e.get("class") for e in elements(html) if e.tag == "td"] == [None, "figure"]


@pytest.mark.parametrize(
    ("render", "limit"),
    [(note, NOTE_LIMIT_BYTES), (lambda t: article(t, Markup).html, ARTICLE_LIMIT_BYTES)],
)
def test_text_over_the_limit_is_refused_before_it_is_parsed(render, limit):
    # 49: these took seconds where nothing was capped
    render("a" * limit)
    for text in ("<![CDATA[" * 20_000, "[a\n" * 30_000, "é" * (limit // 2 + 1)):
        with pytest.raises(ValueError, match="reached the renderer"):
            render(text)


@pytest.mark.parametrize(
    "unit", ["<![CDATA[", "[a\n", "[", "*a_", "`", "![](", "> ", "- ", "|a|\n|-|\n", "&", "<a "]
)
def test_the_longest_note_is_rendered_in_time(unit):
    text = unit * (NOTE_LIMIT_BYTES // len(unit))
    with at_most(1.0):
        note(text)
