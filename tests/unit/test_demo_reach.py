"""The demo reaches what the product can: every word a record may choose, every part of a page."""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from enum import Enum
from inspect import getmembers, isclass
from pathlib import Path

import pytest
import yaml

from generator.reading.folder import content_files
from generator.records import words
from generator.records.checking import rules
from generator.records.collect import Collected, collect
from generator.rendering.environment import template_folder
from generator.rendering.figures import explaining

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "content_demo"
TEMPLATES = template_folder()
NOT_OF_THESE_CARS = {
    words.Location.LINKS: "its three live axles have a rod, a linkage and leaves",
    words.UnitsShown.INCH: "a guide shows one unit first, and this one metric",
    words.ForgeKind.GITHUB: "a guide lies at one forge",
    words.ForgeKind.GITLAB: "a guide lies at one forge",
}
"""Words that one club of six cars cannot use, and why; unit tests hold what they do."""


@pytest.fixture(scope="module")
def demo() -> Collected:
    return collect(content_files(DEMO)[0])


def _parts(value: object) -> Iterator[object]:
    if isinstance(value, dict):
        for pair in value.items():
            yield from pair
    elif isinstance(value, tuple | list | set | frozenset):
        yield from value
    elif hasattr(type(value), "model_fields"):
        yield from (getattr(value, name) for name in type(value).model_fields)
    elif is_dataclass(value):
        yield from (getattr(value, each.name) for each in fields(value))


def _words_of(root: object) -> set[Enum]:
    found, seen, waiting = set(), set(), [root]
    while waiting:
        value = waiting.pop()
        if isinstance(value, Enum):
            found.add(value)
        elif not isinstance(value, str | bytes | int | float | None) and id(value) not in seen:
            seen.add(id(value))
            waiting += _parts(value)
    return found


def test_the_demo_uses_every_word_a_record_may_choose(demo: Collected) -> None:
    used = _words_of(demo.library)
    kinds = getmembers(words, lambda it: isclass(it) and issubclass(it, Enum) and it is not Enum)
    every = {word for _, kind in kinds for word in kind}
    assert len(every) > 100
    assert every - used == set(NOT_OF_THESE_CARS)


def test_the_demo_has_every_shape_and_face_of_a_site(demo: Collected) -> None:
    sites = [site for each in demo.library.chassis.values() for site in each.value.sites]
    for shape in ("block", "line", "arc", "reach"):
        assert any(getattr(site, shape) for site in sites), shape
    # A line that has a thickness is a round bar.
    assert any(site.line and site.thickness for site in sites)
    assert {site.facing for site in sites} == set(words.Facing)
    assert {site.moves_with for site in sites} == set(words.Attachment)
    assert {site.part for site in sites} >= set(words.Part)
    assert any(site.only is not None for site in sites)


def test_the_demo_has_every_drawing_that_explains() -> None:
    asked = {
        name
        for article in (DEMO / "articles").glob("*.md")
        for name in re.findall(r"^```drawing ([a-z-]+)$", article.read_text("utf-8"), re.MULTILINE)
    }
    assert asked == set(explaining())


def test_every_article_explains_something_that_a_page_speaks_of(demo: Collected) -> None:
    told = [subject for each in demo.library.articles.values() for subject in each.head.explains]
    assert all(each.head.explains for each in demo.library.articles.values())
    asked = {
        words.Subject(name)
        for template in (TEMPLATES / "pages").glob("*.html")
        for name in re.findall(r"""reading\(["']([^"']+)["']\)""", template.read_text("utf-8"))
    }
    assert set(told) == asked == set(words.Subject)


def test_the_articles_stand_in_the_order_of_the_job(demo: Collected) -> None:
    orders = {each.head.title: int(each.head.order) for each in demo.library.articles.values()}
    assert len(orders) >= 11
    assert len(set(orders.values())) == len(orders)


def _asked_for(template: Path) -> set[Path]:
    names = re.findall(r"""["']((?:components|diagrams|pages)/[^"']+)["']""", template.read_text())
    return {TEMPLATES / name for name in names if (TEMPLATES / name).is_file()}


def test_every_component_stands_on_a_page_of_the_guide() -> None:
    """By its macros or in its look; the specimen page, which shows them all, does not count."""
    pages = set((TEMPLATES / "pages").glob("*.html")) - {TEMPLATES / "pages" / "specimen.html"}
    waiting, seen = [*pages, TEMPLATES / "base.html"], set()
    while waiting:
        template = waiting.pop()
        if template not in seen:
            seen.add(template)
            waiting += _asked_for(template)
    shown = {each.parent.name for each in seen if each.parent.parent.name == "components"}
    texts = "\n".join(each.read_text() for each in seen)
    for each in (TEMPLATES / "components").iterdir():
        looks = rf'class="(?:[^"]* )?{each.name}[ "{{]'
        assert each.name in shown or re.search(looks, texts), each.name


def _leaves(value: object, path: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Give the way to every value of a file; front and rear are one."""
    if isinstance(value, dict):
        for key, each in value.items():
            yield from _leaves(each, (*path, "axle" if key in ("front", "rear") else str(key)))
    elif isinstance(value, list):
        for each in value:
            yield from _leaves(each, path)
    elif path:
        yield path


def test_the_demo_gives_every_field_that_a_rule_speaks_of() -> None:
    """Its records break no rule; so each rule must at least have something to look at there."""
    given: dict[str, set[tuple[str, ...]]] = {"setups": set(), "chassis": set(), "club": set()}
    for path in DEMO.rglob("*.yaml"):
        kind = path.relative_to(DEMO).parts[0].removesuffix(".yaml")
        if kind in given:
            given[kind] |= set(_leaves(yaml.load(path.read_text("utf-8"), yaml.BaseLoader)))
    groups = {
        "setup": "setups", "other": "setups", "chassis": "chassis", "other chassis": "chassis",
        "club": "club",
    }  # fmt: skip
    silent = {
        (rule.code, group)
        for rule in rules()
        for group, value in (yaml.load(rule.bad, yaml.BaseLoader) or {}).items()
        if group in groups and not given[groups[group]] >= set(_leaves(value))
    }
    assert not silent
