"""Every rule of records/checks: its texts, its examples, and that no record can break it."""

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from functools import cache
from types import ModuleType
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.reading.fault import Fault
from generator.reading.folder import Found
from generator.reading.source import Mapping, Node, Scalar, load
from generator.reading.writing import to_yaml
from generator.records.checking import check, rule_modules
from generator.records.collect import collect
from generator.records.examples import DAY_OF_EXAMPLES, example_faults, example_files
from generator.records.library import Library

MODULES = rule_modules()
RICH = """
setup:
  front:
    wheel: {offset_measured: 21.5 mm, width_measured: 178 mm, spoke_back: 24 mm,
      spoke_back_radius: 120 mm, barrel_radius: 172 mm, ring: 61.6 mm, runout_radial: 0.2 mm}
    spacer: {thickness: 5 mm, kind: slip-on, count: "1", pockets: 0 mm, nut_height: 16 mm}
    face_moved: 0 mm
    ride_height: {change: -20 mm, hub_to_lip: 356 mm, hub_to_rail: 369 mm}
    bump_stop: {state: trimmed, trimmed: 10 mm, free_height: 52 mm, damper_reserve: 12 mm}
    left: {spacer: 5 mm, section_width: 206 mm, diameter: 612 mm, lips: rolled}
    right: {spacer: 5 mm, section_width: 207 mm, diameter: 612 mm, camber: -1 deg}
    caliper_to_spoke: 6 mm
    caliper_to_barrel: 7 mm
  rear:
    axle_error: 2 mm
    rod_change: 2 mm
  gaps:
    - {site: strut-tube, axle: front, side: left, state: static, gap: 9 mm, tool: feeler gauge}
    - {site: strut-tube, side: right, state: static, gap: 9.5 mm, tool: feeler gauge}
    - {site: strut-tube, side: both, state: toe-out lock, gap: more than 5 mm}
    - {site: fender-lip, side: left, state: static, gap: 12 to 14 mm, tool: clay}
    - {site: fender-lip, side: left, state: full bump, gap: 9 mm, tool: clay}
    - {site: fender-lip, side: right, state: full bump, gap: 11 mm, tool: clay}
    - {site: brake-hose, side: both, state: toe-in lock at bump, gap: 18 mm, tool: by eye}
    - {site: quarter-lip, side: left, state: static, gap: 18 mm, tool: clay}
    - {site: quarter-lip, side: right, state: static, gap: 22 mm, tool: clay}
    - {site: quarter-lip, side: left, state: full bump, gap: clears}
    - {site: quarter-lip, side: right, state: full bump, gap: not checked}
    - {site: inner-wheelhouse, side: both, state: "this side up, other down", gap: touches}
  rubs:
    - {site: inner-wheelhouse, side: left, grade: "1", when: corner over a crest, cured: "no"}
other:
  car: copperbill-coupe
  member: Copperbill
  date: 2025-07-20
  front:
    spacer: {thickness: 8 mm, kind: slip-on}
    bump_stop: {state: trimmed, trimmed: 14 mm}
"""
"""A record that has nearly everything in it, and a second one of the same car."""

DAMAGE = (
    "0 mm", "-999999 mm", "999999 in", "0.000001 mm", "-1 mm", "999999 deg", "-999999 deg",
    "0 kg", "0 N·m", "0", "999999", "clears", "touches", "not checked", "left", "right", "static",
    "999999 -> 0 mm", "-999999 to 999999 mm", "2 x 8", "15 x 30", "8x260", "105/10 R 8", "6.00-16",
    "M8x0.75", "flat", "shank", "1950-01-01", "9999-12-31", "0100", "bolt-on", "none fitted",
)  # fmt: skip
"""Texts that some field reads, at or beyond the end of its range."""


def code(module: ModuleType) -> str:
    return str(module.RULE.code)


def run(module: ModuleType, library: Library) -> tuple[Fault, ...]:
    found: list[Fault] = []
    if hasattr(module, "check_library"):
        found += module.check_library(library)
    if hasattr(module, "check_dates"):
        found += module.check_dates(library, DAY_OF_EXAMPLES)
    if hasattr(module, "check"):
        for case in library.cases():
            found += module.check(case)
    return tuple(found)


def plain(node: Node) -> Any:
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Mapping):
        return {name: plain(value) for name, value in node.entries.items()}
    return [plain(item) for item in node.items]


@cache
def rich() -> tuple[tuple[str, Any], ...]:
    trees = []
    for file in example_files(RICH):
        source, _ = load(file.path, file.content)
        assert source is not None
        trees.append((file.path, plain(source.root)))
    return tuple(trees)


def routes(tree: Any) -> Iterator[tuple[str | int, ...]]:
    pairs = tree.items() if isinstance(tree, dict) else enumerate(tree)
    for step, value in pairs:
        yield (step,)
        if isinstance(value, dict | list):
            for rest in routes(value):
                yield (step, *rest)


def without(tree: Any, route: tuple[str | int, ...]) -> Any:
    """Copy a tree without what stands at a route."""
    return changed(tree, route, None)


def changed(tree: Any, route: tuple[str | int, ...], text: str | None) -> Any:
    """Copy a tree with a text at a route, or without what stands there."""
    step, *rest = route
    copy = dict(tree) if isinstance(tree, dict) else list(tree)
    if rest:
        copy[step] = changed(copy[step], tuple(rest), text)
    elif text is None:
        del copy[step]
    else:
        copy[step] = text
    return copy


def library_of(trees: dict[str, Any]) -> Library:
    files = [Found(path, to_yaml(tree).encode("utf-8")) for path, tree in trees.items()]
    return collect(files).library


ALL_ROUTES = tuple((path, route) for path, tree in rich() for route in routes(tree))


def test_codes_are_given_once_and_files_come_in_their_order() -> None:
    codes = [code(module) for module in MODULES]
    assert len(set(codes)) == len(codes)
    assert codes == sorted(codes)
    assert all(re.fullmatch(r"[A-Z][0-9]{2}", one) for one in codes)


@pytest.mark.parametrize("module", MODULES, ids=code)
def test_a_rule_says_what_it_is_and_how_to_mend_it(module: ModuleType) -> None:
    rule = module.RULE
    assert rule.title
    assert not rule.title[:1].isupper() or rule.title[1:2].isupper()  # ABS may begin one
    assert not rule.title.endswith(".")
    for text in (rule.why, rule.mend):
        assert text[0] == text[0].upper()
        assert text.endswith(".")
    assert rule.source.strip()
    assert (module.__doc__ or "").strip().count("\n") <= 3
    blaming = ("invalid", "illegal", "wrong of you", "stupid", "error:")
    said = f"{rule.title} {rule.why} {rule.mend}".lower()
    assert not [word for word in blaming if word in said]


@pytest.mark.parametrize("module", MODULES, ids=code)
def test_a_rule_has_something_to_run(module: ModuleType) -> None:
    runs = [name for name in ("check", "check_library", "check_dates") if hasattr(module, name)]
    assert runs
    assert "check" in runs or not module.RULE.is_live


@pytest.mark.parametrize("module", MODULES, ids=code)
def test_the_bad_example_earns_the_code(module: ModuleType) -> None:
    faults = [fault for fault in example_faults(module.RULE.bad) if fault.code == code(module)]
    assert faults
    for fault in faults:
        assert fault.headline
        assert not fault.headline.endswith(".")
        assert fault.expected or fault.fix
        assert fault.place.line >= 1
        assert fault.place.column >= 1


@pytest.mark.parametrize("module", MODULES, ids=code)
def test_the_good_example_has_no_fault(module: ModuleType) -> None:
    assert example_faults(module.RULE.good) == ()


def test_the_plain_sample_has_no_fault() -> None:
    assert example_faults("setup: {}") == ()


@pytest.mark.parametrize("module", MODULES, ids=code)
def test_a_rule_survives_each_field_left_out(module: ModuleType) -> None:
    for library in thinned():
        run(module, library)


@cache
def thinned() -> tuple[Library, ...]:
    """Libraries that lack one field each, required fields among them."""
    trees = dict(rich())
    whole = library_of(trees)
    kept = []
    for path, route in ALL_ROUTES:
        part = library_of({path: without(trees[path], route)})
        if path == "club.yaml":
            kept.append(replace(whole, club=part.club))
        else:
            chassis = {**whole.chassis, **part.chassis} if "chassis/" in path else whole.chassis
            setups = {**whole.setups, **part.setups} if "setups/" in path else whole.setups
            kept.append(replace(whole, chassis=chassis, setups=setups))
    return tuple(kept)


@given(
    spots=st.lists(st.sampled_from(ALL_ROUTES), min_size=1, max_size=4),
    texts=st.lists(st.sampled_from(DAMAGE), min_size=4, max_size=4),
    today=st.sampled_from((DAY_OF_EXAMPLES, date(1950, 1, 1), date(2200, 2, 28))),
)
@settings(max_examples=100, deadline=None)
def test_no_number_breaks_a_rule(
    spots: list[tuple[str, tuple[str | int, ...]]], texts: list[str], today: date
) -> None:
    trees = dict(rich())
    for (path, route), text in zip(spots, texts, strict=False):
        try:
            trees[path] = changed(trees[path], route, text)
        except (TypeError, KeyError):
            continue  # the spot lies below one that was changed before
    check(library_of(trees), today=today)
