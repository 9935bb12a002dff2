"""Any words of members: tame in HTML; any names: never a path that leads out of the folder.

What counts as tame is what a browser's parser (html5lib) makes of the text, and what leads out is
what the system's own path resolution says.
"""

import tempfile
from pathlib import Path
from urllib.parse import urljoin, urlsplit

import html5lib
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from markupsafe import Markup

from generator.new_record import new_record
from generator.reading.folder import Found, odd_name
from generator.reading.trouble import GuideError
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.rendering.manifest import path_fault
from generator.rendering.prose import article, note
from generator.site import urls

bounded = settings(
    max_examples=150, deadline=None, database=None, derandomize=True,
    suppress_health_check=[HealthCheck.too_slow],
)  # fmt: skip
PIECES = st.sampled_from([
    *("<script>", "</script>", "<img src=x onerror=a()>", "<svg onload=a()>", "<a href='", '">'),
    *("[x](", "[x][1]", "[1]: ", ")", "![", "](", "javascript:", "JaVa&#9;script:"),
    *("data:text/html,",),
    *("//b.example", "https://a.example/", "\\\\b.example", "mailto:a@a.example"),
    *("../../", "<", ">", "`", "```\n", "\n", "\n\n", "    ", "| a | b |\n|---|---|\n", "# ", "- "),
    *("> ", "&#106;", "&lt;", "*", "_", "{{ 7*7 }}", "{% raw %}", "\x00", "\u202e"),
])  # fmt: skip
WORDS = st.lists(PIECES | st.text(max_size=8), max_size=25).map("".join) | st.text(max_size=200)
TAME = {
    *("a", "blockquote", "br", "code", "div", "em", "hr", "li", "ol", "p", "pre", "strong", "ul"),
    *("h2", "h3", "h4", "h5", "h6", "span", "table", "tbody", "td", "th", "thead", "tr"),
}
HOME = "https://guide.example/setups/page.html"


def assert_tame(html: str) -> None:
    fragment = html5lib.parseFragment(html, namespaceHTMLElements=False)
    for element in fragment.iter():
        if element is fragment:
            continue
        assert element.tag in TAME, element.tag
        for name, value in element.attrib.items():
            assert not name.lower().startswith("on"), name
            assert name not in ("src", "style", "srcset", "action"), name
            if name == "href":
                parts = urlsplit(urljoin(HOME, value))
                assert parts.scheme in ("https", "mailto"), value
                # another host is led to only by a link that says so
                own = parts.hostname in (None, "guide.example")
                assert own or value.lower().startswith("https://"), value


@bounded
@given(WORDS)
def test_any_note_is_tame(text: str) -> None:
    assert_tame(str(note(text)))


def no_drawing(name: str) -> Markup:
    return Markup("<p></p>")


@bounded
@given(WORDS)
def test_any_article_is_tame(text: str) -> None:
    assert_tame(str(article(text, no_drawing).html))


PARTS = st.sampled_from(
    ["..", ".", "/", "\\", "a", "setups", "\x00", "C:", "%2e%2e", "~", "con", " ", "\u202e", "\n"]
)
NAMES = st.lists(PARTS | st.text(max_size=4), max_size=8).map("".join) | st.text(max_size=80)


def leads_out(path: str) -> bool:
    """Say what the system makes of a path below a folder."""
    folder = Path("/guide/site")
    try:
        return not (folder / path).resolve().is_relative_to(folder)
    except ValueError:  # a NUL, which no system takes
        return True


@bounded
@given(NAMES)
def test_a_path_that_passes_stays_in_the_site(path: str) -> None:
    assert path_fault(path) is not None or not leads_out(path)


@pytest.mark.parametrize("kind", ["setups/ostvane-meridel/{}.yaml", "chassis/{}.yaml", "{}"])
@bounded
@given(name=NAMES)
def test_a_record_of_any_file_name_has_a_fault_or_an_address_inside(kind: str, name: str) -> None:
    if odd_name(kind.format(name)) is not None:
        return
    samples = {file.path: file for file in example_files("setup: {}")}
    files = [file for path, file in samples.items() if not path.startswith("setups/")]
    content = next(file.content for path, file in samples.items() if path.startswith("setups/"))
    library = collect([*files, Found(kind.format(name), content)]).library
    addresses = [urls.setup(each) for each in library.setups]
    addresses += [urls.chassis(each) for each in library.chassis]
    assert all(not leads_out(each) and "\\" not in each for each in addresses)


@bounded
@given(name=NAMES, chassis=NAMES | st.just("ostvane-meridel"))
def test_a_new_record_of_any_name_stays_in_its_folder(name: str, chassis: str) -> None:
    with tempfile.TemporaryDirectory() as folder:
        content = Path(folder) / "content"
        for file in example_files("setup: left out"):
            path = content / file.path
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(file.content)
        before = set(Path(folder).rglob("*"))
        try:
            made = new_record(content, chassis, name)
        except GuideError:
            assert set(Path(folder).rglob("*")) == before
            return
        assert made.resolve().parent == (content / "setups" / chassis).resolve()
        fresh = {path for path in Path(folder).rglob("*") if path.is_file()} - before
        assert fresh == {made}
