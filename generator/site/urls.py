"""Every address of the guide is made here.

Pages are files ending in .html, so that the guide works from any folder of any host, and from a
disk without one.
"""

from functools import lru_cache
from posixpath import dirname, relpath

HOME = "index.html"
FIND = "find.html"
COMPARE = "compare.html"
TRY = "try.html"
SUBMIT = "submit.html"
ARTICLES = "articles/index.html"
GLOSSARY = "glossary.html"
FAULTS = "faults.html"
RULES = "rules.html"
RULE_LETTERS = ("L", "R")
METHOD = "method.html"
TYRE_BOOK = "tyre-book.html"
MAINTAINERS = "maintainers.html"
RECORD_REFERENCE = "record-reference.html"
SPECIMEN = "specimen.html"
DATA = "data.html"
OFFLINE = "offline.html"
WORKER = "sw.js"
WORKER_SWITCH = "worker.json"
WEB_MANIFEST = "manifest.webmanifest"
ICON = "icon.svg"
FEED = "feed.xml"
SITEMAP = "sitemap.xml"
DATA_FOLDER = "data/v1"
"""The number is that of the form: a column that changes its meaning or goes makes a new one."""


def chassis(name: str) -> str:
    """Give the address of a chassis page."""
    return f"chassis/{name}.html"


def setup(name: str) -> str:
    """Give the address of a setup page; the id has the chassis in it."""
    return f"setups/{name}.html"


def setup_sheet(name: str) -> str:
    """Give the address of a setup's sheet for the printer."""
    return f"setups/{name}.sheet.html"


def mock_up(name: str) -> str:
    """Give the address of a chassis' mock-up sheet."""
    return f"chassis/{name}.mock-up.html"


def limit_history(name: str) -> str:
    """Give the address of the page on which a chassis' limits tell how they came about."""
    return f"chassis/{name}.limits.html"


def trial(name: str, start: str = "") -> str:
    """Give the address at which a setup is tried on a chassis; `start` is a setup's short name."""
    return f"chassis/{name}.try.html" + (f"?start={start}" if start else "")


def live(name: str) -> str:
    """Give the address of what the page for a trial loads."""
    return f"try/{name}.json"


def article(name: str) -> str:
    """Give the address of an article."""
    return f"articles/{name}.html"


def fault(code: str) -> str:
    """Give the address of the explanation of a fault code."""
    page = RULES if code.startswith(RULE_LETTERS) else FAULTS
    return f"{page}#{code.lower()}"


def field_of(name: str) -> str:
    """Give the address of a field of a record in the reference, by its route with hyphens."""
    return f"{RECORD_REFERENCE}#{name}"


def source(key: str) -> str:
    """Give the address of a source of numbers."""
    return f"{METHOD}#source-{key.lower().replace('.', '-')}"


def term(name: str) -> str:
    """Give the address of a word of the glossary."""
    return f"{GLOSSARY}#{name}"


def data(name: str) -> str:
    """Give the address of a data file."""
    return f"{DATA_FOLDER}/{name}"


def schema(name: str) -> str:
    """Give the address of a JSON Schema."""
    return f"{DATA_FOLDER}/schema/{name}.json"


def find_file(name: str) -> str:
    """Give the address of a file that the find page loads."""
    return f"find/{name}"


def compare(first: str, second: str) -> str:
    """Give the compare page with two chosen by id, a setup's or, as stock, a chassis's."""
    return f"{COMPARE}?a={first}&b={second}"


def submit_file(name: str) -> str:
    """Give the address of a file that the page for submitting a record loads or offers."""
    return f"submit/{name}"


def comparison(name: str) -> str:
    """Give the address of what the compare page loads: of a setup, or a chassis as stock, by id."""
    return f"compare/{name}.json"


def feed(chassis_name: str) -> str:
    """Give the address of the feed of one chassis."""
    return f"feeds/{chassis_name}.xml"


def record(way: str) -> str:
    """Give the address of the page of a file, by its path without ending.

    >>> record("setups/ostvane-meridel/first-try")
    'setups/ostvane-meridel/first-try.html'
    """
    return f"{way}.html"


def relative(page: str, to: str) -> str:
    """Give an address as seen from a page.

    >>> relative("setups/a/b.html", "chassis/a.html")
    '../../chassis/a.html'
    """
    target, mark, fragment = to.partition("#")
    if target == page and mark:
        return f"#{fragment}"
    return _way(dirname(page) or ".", target) + mark + fragment


@lru_cache(maxsize=16_384)
def _way(folder: str, target: str) -> str:
    """Give the way from a folder; kept, since the pages of a folder ask for much the same."""
    return relpath(target, folder)


def photo(digest: str, width: int) -> str:
    """Give the address of a file made of a photo, by the photo's digest and the file's width."""
    return f"photos/{digest[:20]}-{width}.jpg"
