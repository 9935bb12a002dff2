import re
import subprocess
import sys

import html5lib
import pytest
from jinja2 import TemplateNotFound, UndefinedError

from generator.rendering.environment import build_environment, minified, template_folder
from generator.site.shell import Link, NavLink, Shell
from generator.site.views import specimen

SHELL = Shell(
    guide_name="A & B's guide",
    language="en",
    is_demo=True,
    data_as_of="4 March 2026, revision 3f2a1c",
    home_href="../",
    method_href="../method/",
    style_href="guide.css",
    boot_href="boot.js",
    canonical_href="https://guide.example/specimen/",
    nav=(NavLink("Home", "../"), NavLink("Find", "../find/", is_current=True)),
    footer_links=(Link("Data", "../data/"),),
)
EXACT = {"pre", "textarea", "script", "style", "svg"}


def write(folder, **templates):
    for name, text in templates.items():
        path = folder / name.replace("__", ".")
        path.write_text(text, encoding="utf-8")
    return folder


def rendered(folder, name, *, minify, **context):
    environment = build_environment(folder, minify=minify)
    return environment.get_template(name).render(**context)


def tree(page):
    """The page as html5lib parses it; runs of blanks count as one where HTML shows them as one."""
    return _tree(html5lib.parse(page, treebuilder="etree", namespaceHTMLElements=False))


def _tree(node, is_exact=False, is_head=False):
    is_exact = is_exact or node.tag in EXACT or str(node.tag).startswith("{http://www.w3.org/2000")
    is_head = node.tag in {"html", "head"}

    def text(value):
        value = value or ""
        if is_exact:
            return value
        if is_head and not value.strip():
            return ""
        return re.sub(r"[ \t\n\f\r]+", " ", value)

    tail_is_exact = is_exact
    children = []
    for child in node:
        if not isinstance(child.tag, str):
            continue
        tail = child.tail or ""
        shown = tail if tail_is_exact else text(tail)
        children.append((_tree(child, is_exact, is_head), shown))
    return (node.tag, sorted(node.attrib.items()), text(node.text), children)


def specimen_page(*, minify):
    return rendered(
        template_folder(),
        "pages/specimen.html",
        minify=minify,
        shell=SHELL,
        page=specimen.head(Link("Home", "../")),
    )


def test_the_specimen_parses_to_the_same_tree_with_and_without_minifying():
    assert tree(specimen_page(minify=True)) == tree(specimen_page(minify=False))


HARD = [
    "<p>a {% if yes %} b {% endif %} c</p><a href=\"{{ text }}\">x</a>\n<a href='y'>z</a>",
    "<ul>\n{% for n in (1, 2) %}\n  <li>{{ n }}</li>\n{% endfor %}\n</ul>",
    '<input type="checkbox"{% if yes %} checked{% endif %} value="">',
    '<div {% if no %}hidden{% endif %} class="a  b">  x\n\n  y </div>',
    '<{% if yes %}h2{% else %}h3{% endif %} class="x">  y</{% if yes %}h2{% else %}h3{% endif %}>',
    "<pre>a\n   {{ text }}\n  b</pre>  <textarea>\n\n  {{ text }}</textarea>",
    '<svg viewBox="0 0 9 9"><text>a   b</text><path d="M0 0\n L9 9"/></svg>',
    "<svg viewBox='0 0 1 1'><svg viewBox='0 0 2 2'><text>a  b</text></svg></svg>",
    "<!-- gone {{ text }} --><p>kept</p>",
    "<p>jx0xj  kx0xk {{ text }}</p>",
    '<p title="&amp;quot; onx=1 &amp;copy;">&amp;lt;  {{ text }}</p>',
    '<span class="x"/>{{ text }}<b {% if no %}class="y"{% endif %}/>  z',
    "{# a remark #}<p>\n{{ text -}}\n  b</p>{% raw %}{{ not }}   {% x %}{% endraw %}",
    "<script type='application/json'>{\"a\":   {{ 1 }}}</script><style>a   {}</style>",
    "<table>\n<tr>\n<td>{{ text }}\n<td>b\n</table>",
    "<p>a < b &   c {{ text }}",
]


@pytest.mark.parametrize("source", HARD)
@pytest.mark.parametrize("yes", [True, False])
def test_hard_templates_parse_to_the_same_tree_with_and_without_minifying(tmp_path, source, yes):
    write(tmp_path, page__html=source)
    context = {"yes": yes, "no": not yes, "text": '<b> "&quot;  jx1xj'}
    plain, short = (
        rendered(tmp_path, "page.html", minify=minify, **context) for minify in (False, True)
    )
    if "<!--" in source:
        plain = re.sub(r"<!--.*?-->", "", plain)
        short = re.sub(r"<!--.*?-->", "", short)
    assert tree(short) == tree(plain)


def test_minifying_takes_blanks_away(tmp_path):
    write(tmp_path, page__html="<p>a\n\n      b {{ 1 }}     c</p>")
    assert rendered(tmp_path, "page.html", minify=True) == "<p>a b 1 c</p>"


def test_minifying_leaves_what_is_not_html_alone(tmp_path):
    source = '<svg viewBox="0 0 1 1">\n   <text>a   b</text></svg>'
    write(tmp_path, drawing__svg=source)
    assert rendered(tmp_path, "drawing.svg", minify=True) == source


def test_minified_text_keeps_quotes_and_case_of_svg():
    source = '<p class="a" title="">x</p><svg viewBox="0 0 1 1"></svg>'
    assert minified(source) == source


def test_a_fault_in_a_template_is_still_placed_on_its_line(tmp_path):
    write(tmp_path, page__html="<p>a</p>\n<p>b</p>\n<p>{{ missing }}</p>")
    with pytest.raises(UndefinedError) as caught:
        rendered(tmp_path, "page.html", minify=True)
    lines = [entry.lineno + 1 for entry in caught.traceback if str(entry.path).endswith("html")]
    assert lines[-1] == 3


@pytest.mark.parametrize("name", ["page.html", "page.svg", "feed.atom", "report.md", "x.html.j2"])
def test_members_text_is_escaped_in_every_kind_of_file(tmp_path, name):
    # web-and-security 7.5, cases 40, 41, 45: markup and quotes are text wherever they are put
    (tmp_path / name).write_text('<a title="{{ text }}">{{ text }}</a>', encoding="utf-8")
    shown = rendered(tmp_path, name, minify=True, text='"><script>alert(1)</script>')
    assert "<script" not in shown
    assert shown.count('"') == 2


def test_members_text_is_never_read_as_a_template(tmp_path):
    # case 47
    write(tmp_path, page__html="<p>{{ text }}</p>")
    text = "{{ 7*7 }} {% include 'x' %} ${7*7}"
    assert "49" not in rendered(tmp_path, "page.html", minify=True, text=text)


@pytest.mark.parametrize(
    "text", ["&amp;quot; onx=1", "&amp;copy;", "&lt;", "&amp;b", '" onmouseover=alert(1) x="']
)
def test_text_in_an_attribute_survives_minifying_to_the_letter(tmp_path, text):
    # cases 45 and 46
    write(tmp_path, page__html='<p title="{{ text }}"  class="x">y</p>')
    page = rendered(tmp_path, "page.html", minify=True, text=text)
    paragraph = html5lib.parse(page, namespaceHTMLElements=False).find(".//p")
    assert dict(paragraph.attrib) == {"title": text, "class": "x"}


def test_what_is_not_defined_stops_the_page(tmp_path):
    write(tmp_path, page__html="{{ absent }}")
    with pytest.raises(UndefinedError):
        rendered(tmp_path, "page.html", minify=True)


def test_an_unknown_flag_word_stops_the_page():
    environment = build_environment()
    source = '{% from "components/flag/flag.html" import confidence %}{{ confidence("sure") }}'
    with pytest.raises(UndefinedError):
        environment.from_string(source).render()


def test_a_template_name_cannot_leave_the_folder():
    with pytest.raises(TemplateNotFound):
        build_environment().get_template("../pyproject.toml")


def test_htmlmin_is_loaded_without_a_warning_even_where_warnings_are_errors():
    code = "from generator.rendering.environment import minified; print(minified('<p>a  b</p>'))"
    result = subprocess.run(
        [sys.executable, "-W", "error", "-c", code],
        capture_output=True,
        text=True,
        check=False,
        cwd=template_folder().parent,
    )
    assert (result.stdout, result.stderr) == ("<p>a b</p>\n", "")


def test_every_component_shows_its_examples():
    folder = template_folder() / "components"
    parts_of_the_frame = {"header", "footer", "banner"}
    # keep shows itself only once a worker can; the browser tests press it.
    shown_inside_others = {"glyph", "facts", "figure", "keep"}
    components = {path.name for path in folder.iterdir() if path.is_dir()}
    with_examples = {path.parent.name for path in folder.glob("*/examples.html")}
    assert components == with_examples | parts_of_the_frame | shown_inside_others
    page = specimen_page(minify=True)
    assert all(f'id="component-{name}"' in page for name in with_examples)


def test_the_policy_comes_first_and_nothing_is_written_inline():
    # web-and-security 7.8: the policy governs only what comes after it
    page = html5lib.parse(specimen_page(minify=True), namespaceHTMLElements=False)
    first = page.find("head")[0]
    assert first.get("http-equiv") == "Content-Security-Policy"
    policy = first.get("content")
    for rule in ("default-src 'none'", "script-src 'self'", "style-src 'self'", "base-uri 'none'"):
        assert rule in policy
    assert "unsafe" not in policy
    for element in page.iter():
        if not isinstance(element.tag, str):
            continue
        assert element.tag != "style"
        assert not any(name == "style" or name.startswith("on") for name in element.attrib)
        if element.tag == "script":
            assert element.get("src")
            assert not (element.text or "").strip()


def test_ids_on_the_specimen_are_unique_and_all_references_lead_somewhere():
    page = html5lib.parse(specimen_page(minify=True), namespaceHTMLElements=False)
    elements = [element for element in page.iter() if isinstance(element.tag, str)]
    ids = [element.get("id") for element in elements if element.get("id")]
    assert len(ids) == len(set(ids))
    for element in elements:
        for name in ("aria-labelledby", "aria-describedby", "for"):
            assert set((element.get(name) or "").split()) <= set(ids), element.attrib


def test_lengths_come_in_both_units_with_the_clubs_own_first():
    source = '{% from "components/number/number.html" import length %}{{ length(152.4, 0.8) }}'
    metric = build_environment().from_string(source).render()
    inch = build_environment(inch_first=True).from_string(source).render()

    def words(page):
        return html5lib.parseFragment(page, namespaceHTMLElements=False).itertext()

    def shown(page):
        return "".join(words(page)).replace("\u00a0", " ").strip()

    # 152.4 mm is 6 in exactly; 0.8 mm is 0.03 in
    assert shown(metric) == "152.4 ± 0.8 mm / 6.00 ± 0.03 in"
    assert shown(inch) == "6.00 ± 0.03 in / 152.4 ± 0.8 mm"


def test_unknown_numbers_are_words():
    source = """{% from "components/number/number.html" import chance, length, quantity, span %}
    {{ length(none) }}|{{ span(1, none) }}|{{ quantity(none, "kg") }}|{{ chance(none) }}"""
    assert build_environment().from_string(source).render().count("not known") == 4
