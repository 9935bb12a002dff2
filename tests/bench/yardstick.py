"""The yardstick: as many plain Markdown pages, built by two general-purpose site generators.

Each page has a table of 30 rows and four paragraphs, and a layout of a dozen lines around it. The
generators are installed into a throwaway folder; the project does not need them.
"""

import json
import os
import shutil
import subprocess
import sys
import venv
from dataclasses import dataclass
from pathlib import Path
from random import Random

from tests.bench.timing import Measured, Run, run

PELICAN, MARKDOWN, ELEVENTY = "4.11.0", "3.7", "3.0.0"
ROWS, PARAGRAPHS, WORDS = 30, 4, 60
LONG = 60.0
_WORDS = (
    "lane", "wheel", "brass", "copper", "lantern", "early", "tide", "market", "stone", "window",
    "orchard", "kettle", "summer", "ladder", "barrel", "meadow", "winter", "harbour", "slate",
    "ribbon", "candle", "river", "hollow", "timber", "morning", "feather", "bridge",
)  # fmt: skip
_LAYOUT = """<!doctype html>
<html lang="en">
<head><meta charset="utf-8"><title>TITLE</title></head>
<body>
<header><a href="/">Home</a></header>
<main><h1>TITLE</h1>
CONTENT
</main>
<footer>Plain pages</footer>
</body>
</html>
"""


@dataclass(frozen=True)
class Yardstick:
    """One generator: its name and version, how it is called, and where its pages go."""

    name: str
    command: tuple[str, ...]
    folder: Path
    output: Path

    def measure(self, times: int, environment: dict[str, str]) -> Measured:
        """Build all pages into an empty folder some times."""
        runs: list[Run] = []
        for _ in range(times):
            shutil.rmtree(self.output, ignore_errors=True)
            runs.append(run(self.command, cwd=self.folder, environment=environment))
            if runs[-1].wall > LONG:
                break
        return Measured.of(runs)

    def pages(self) -> int:
        """Count the pages that were built."""
        return sum(1 for _ in self.output.rglob("*.html"))


def body(number: int) -> str:
    """Write the Markdown of one page: 30 rows and four paragraphs."""
    random = Random(number)
    rows = [f"| {random.choice(_WORDS)} | {random.random():.3f} | {random.choice(_WORDS)} |"
            for _ in range(ROWS)]  # fmt: skip
    table = "\n".join(["| part | size | remark |", "| --- | --- | --- |", *rows])
    prose = [" ".join(random.choices(_WORDS, k=WORDS)) + "." for _ in range(PARAGRAPHS)]
    return "\n\n".join([*prose[:2], table, *prose[2:]]) + "\n"


def python_one(tools: Path, work: Path, count: int) -> Yardstick:
    """Prepare the Python generator."""
    own = tools / "python"
    if not (own / "bin" / "pelican").exists():
        venv.create(own, with_pip=True)
        asked = [f"pelican=={PELICAN}", f"markdown=={MARKDOWN}"]
        _quiet([str(own / "bin" / "pip"), "install", "-q", *asked], own)
    folder = work / "python"
    pages, theme = folder / "content" / "pages", folder / "theme" / "templates"
    pages.mkdir(parents=True)
    theme.mkdir(parents=True)
    (folder / "theme" / "static").mkdir()
    for number in range(count):
        (pages / f"p{number}.md").write_text(f"Title: Page {number}\n\n{body(number)}", "utf-8")
    page = _LAYOUT.replace("TITLE", "{{ page.title }}").replace("CONTENT", "{{ page.content }}")
    (theme / "page.html").write_text(page, "utf-8")
    (folder / "pelicanconf.py").write_text(
        "SITENAME = 'Plain'\nTIMEZONE = 'UTC'\nTHEME = 'theme'\nPATH = 'content'\n"
        "DIRECT_TEMPLATES = []\nFEED_ALL_ATOM = CATEGORY_FEED_ATOM = TRANSLATION_FEED_ATOM = None\n"
        "AUTHOR_FEED_ATOM = AUTHOR_FEED_RSS = None\nAUTHOR_SAVE_AS = CATEGORY_SAVE_AS = ''\n"
        "TAG_SAVE_AS = ''\nMARKDOWN = {'extensions': ['markdown.extensions.tables']}\n",
        "utf-8",
    )
    command = (str(own / "bin" / "pelican"), "-q", "-s", "pelicanconf.py", "-o", "output")
    return Yardstick(f"Pelican {PELICAN} (Python)", command, folder, folder / "output")


def javascript_one(tools: Path, work: Path, count: int) -> Yardstick:
    """Prepare the JavaScript generator."""
    own = tools / "javascript"
    if not (own / "node_modules" / "@11ty").exists():
        own.mkdir(parents=True, exist_ok=True)
        (own / "package.json").write_text(json.dumps({"name": "yardstick", "private": True}))
        asked = f"@11ty/eleventy@{ELEVENTY}"
        _quiet(["npm", "install", "--silent", "--no-audit", "--no-fund", asked], own)
    folder = work / "javascript"
    pages = folder / "pages"
    (pages / "_includes").mkdir(parents=True)
    page = _LAYOUT.replace("TITLE", "{{ title }}").replace("CONTENT", "{{ content | safe }}")
    (pages / "_includes" / "page.njk").write_text(page, "utf-8")
    for number in range(count):
        head = f"---\ntitle: Page {number}\nlayout: page.njk\n---\n"
        (pages / f"p{number}.md").write_text(head + body(number), "utf-8")
    command = ("node", str(own / "node_modules" / "@11ty" / "eleventy" / "cmd.cjs"), "--quiet",
               "--input=pages", "--output=output")  # fmt: skip
    return Yardstick(f"Eleventy {ELEVENTY} (JavaScript)", command, folder, folder / "output")


def _quiet(command: list[str], folder: Path) -> None:
    subprocess.run(command, cwd=folder, check=True, stdout=subprocess.DEVNULL, timeout=600)


def measure(tools: Path, work: Path, count: int, times: int) -> dict[str, dict[str, float]]:
    """Build the plain pages by both generators."""
    found = {}
    for make in (python_one, javascript_one):
        one = make(tools, work, count)
        measured = one.measure(times, dict(os.environ))
        if one.pages() != count:
            sys.exit(f"{one.name} built {one.pages()} of {count} pages")
        found[one.name] = measured.plain()
    return found
