"""Drawings: shapes where hand calculation puts them, numbers equal to the computed ones."""

import gzip
import itertools
import re
from dataclasses import replace
from functools import cache
from xml.etree import ElementTree

import pytest

from generator.assessment.assess import assess
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.records.library import Case
from generator.records.words import Axle
from generator.rendering.diagrams import section, signs
from generator.rendering.dimensions import Bar
from generator.rendering.environment import build_environment
from generator.rendering.figures import Made, draw, give_figures
from generator.rendering.layout import LINE_HEIGHT, SHEET_WIDTH, Label, stacked
from generator.site.drawings import SectionSubject, SignsSubject
from generator.site.section_shown import section_of

NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
ET_45 = """
setup:
  front:
    wheel: {size: 7 x 15, offset: 45 mm, backspacing: left out, overall_width: left out,
            flange_inboard: left out, flange_outboard: left out}
"""


@cache
def subject(overlay: str = "setup: {}", axle: Axle = Axle.FRONT) -> SectionSubject:
    case: Case = next(iter(collect(example_files(overlay)).library.cases()))
    assert case.chassis is not None
    chassis, setup = case.chassis.value, case.setup.value
    fitted, sheet = getattr(setup, axle.value), getattr(chassis, axle.value)
    counts = setup.withdrawn is None
    return section_of(case, getattr(assess(case), axle.value), fitted, sheet, counts=counts)


def made(given: SectionSubject) -> Made:
    environment = build_environment()
    give_figures(environment)
    return draw(environment, "section", given)


def bar_length(bar: Bar, unit: str = "metric") -> float:
    """Give how long the scale bar of a unit is drawn."""
    return next(length for name, length, _ in bar.units if name == unit)


def across(path: str, scene: section.Scene) -> list[float]:
    """Give the distances outboard of the hub face of a path's points, by the scale bar."""
    numbers = [float(number) for number in NUMBER.findall(path)]
    x_face = float(NUMBER.findall(scene.face)[0])
    per_mm = bar_length(scene.bar) / 100.0
    return [(x_face - x) / per_mm for x in numbers[0::2]]


def test_a_seven_inch_rim_of_offset_45_stands_where_the_sum_puts_it() -> None:
    # W = 7 in = 177.8 mm: half is 88.9 mm; centre plane 45 mm inboard of the face [UN R124] 2.6,
    # so the flanges' inner faces stand 43.90 mm outboard and 133.90 mm inboard of it.
    scene = section.scene(subject(ET_45))
    found = across(scene.rim, scene)
    tolerance = 10.0 / bar_length(scene.bar)  # coordinates are written to a tenth of a unit
    assert min(abs(u - 43.90) for u in found) < tolerance
    assert min(abs(u + 133.90) for u in found) < tolerance
    # lips of 12.7 mm (common practice) lie beyond: 56.60 and -146.60
    assert max(found) == pytest.approx(56.60, abs=tolerance)
    assert min(found) == pytest.approx(-146.60, abs=tolerance)


def test_the_centre_plane_is_drawn_an_offset_inboard_of_the_face() -> None:
    scene = section.scene(subject(ET_45))
    assert across(scene.centre[: scene.centre.index("V")], scene)[0] == pytest.approx(-45, abs=0.15)


def test_a_spacer_moves_the_wheel_outboard_by_its_thickness() -> None:
    plain = section.scene(subject(ET_45))
    overlay = ET_45 + "    spacer: {thickness: 20 mm, kind: slip-on}\n"
    spaced = section.scene(subject(overlay))
    moved = max(across(spaced.rim, spaced)) - max(across(plain.rim, plain))
    assert moved == pytest.approx(20.0, abs=0.2)
    ends = across(spaced.spacer, spaced)
    assert max(ends) - min(ends) == pytest.approx(20.0, abs=0.2)


def test_the_tyre_is_as_wide_as_the_number_beside_it() -> None:
    # the sample's tyre was measured 206 mm wide
    scene = section.scene(subject())
    found = across(scene.tyre, scene)
    assert max(found) - min(found) == pytest.approx(206.0, abs=0.3)


def test_the_stock_rim_is_ghosted_behind_and_only_behind_another_one() -> None:
    given = subject()
    assert len(section.scene(given).stock) == 2
    assert section.scene(replace(given, setup=None)).stock == ()


def test_lowering_brings_the_body_nearer_and_leaves_what_moves_with_the_wheel() -> None:
    overlay = "setup:\n  front:\n    ride_height: {change: -30 mm}\n"

    def heights(text: str) -> list[float]:
        scene = section.scene(subject(text))
        axis = float(NUMBER.findall(scene.axis)[1])
        per_mm = bar_length(scene.bar) / 100.0
        return [
            max((axis - float(y)) / per_mm for y in NUMBER.findall(mark.path)[1::2])
            for mark in scene.sites
            if mark.path
        ]

    plain, lowered = heights("setup: {}"), heights(overlay)
    # the lip's edge: centre 8 mm above the hub, radius 366 mm, 4 mm forward of the section
    assert plain[0] - 7.0 == pytest.approx(8 + (366**2 - 4**2) ** 0.5, abs=0.3)
    assert plain[0] - lowered[0] == pytest.approx(30.0, abs=0.3)
    assert plain[1] == pytest.approx(lowered[1], abs=0.3)


def test_the_numbers_are_those_of_the_assessment() -> None:
    given = subject()
    fit = given.fit.fitted
    assert fit.wheel is not None
    assert fit.faces is not None
    assert fit.skin is not None
    numbers = {fact.label: fact.value for fact in section.scene(given).numbers}
    assert numbers["backspacing"].value == fit.wheel.backspacing.value
    assert numbers["effective offset"].value == fit.wheel.effective_offset.value
    assert numbers["tyre width"].value == fit.faces.section_width.value
    assert numbers["poke"].value == fit.skin.value
    assert numbers["poke"].u == fit.skin.u
    assert numbers["gap, strut tube"].typed == "9 mm"


@pytest.mark.parametrize("axle", list(Axle))
def test_every_dimension_in_the_drawing_stands_in_the_table(axle: Axle) -> None:
    scene = section.scene(subject(axle=axle))
    table = {fact.label: fact.value.value for fact in scene.numbers}
    for line in scene.dimensions:
        label = {"inside skin": "poke"}.get(line.name, line.name)
        value = table[label]
        assert value is not None
        assert line.shown.value is not None
        assert abs(value) == abs(line.shown.value)


def test_an_arrow_stands_clear_of_the_words_at_the_left() -> None:
    given = subject()
    words = "the rolled edge of the return flange of the fender lip ahead of and above the wheel"
    sites = tuple(site.model_copy(update={"label": words}) for site in given.sites)
    scene = section.scene(replace(given, sites=sites))
    foot = max(mark.words.bottom for mark in scene.sites if mark.words.anchor == "end")
    arrow = next(line for line in scene.dimensions if line.name == "inside skin")
    level = float(NUMBER.findall(arrow.arrows[0])[1])
    assert level - foot >= LINE_HEIGHT / 2.0


def test_a_tyre_inside_the_skin_is_said_to_be_inside() -> None:
    # face_distance 1443 mm, body 1660 mm: the skin stands 108.5 mm outboard of the hub face
    given = subject()
    assert given.fit.fitted.skin is not None
    assert given.fit.fitted.skin.value < 0.0
    scene = section.scene(given)
    assert "inside the body skin" in scene.title
    assert "inside skin" in [line.name for line in scene.dimensions]


def test_a_wheel_of_unknown_place_is_not_drawn_and_is_said_to_be_unknown() -> None:
    overlay = "setup:\n  front:\n    wheel: {offset: left out, backspacing: left out}\n"
    drawing = made(subject(overlay))
    assert "not known and is not drawn" in drawing.caption
    assert "Poke not known." in str(drawing.svg)
    assert "Neither offset nor backspacing is known." in str(drawing.svg)
    of_bar_and_wall = r">(100|9) mm</tspan>"
    assert "mm</tspan>" not in re.sub(of_bar_and_wall, "", str(drawing.svg))  # none is made up
    values = {fact.label: fact.value.kind.value for fact in drawing.numbers}
    assert values["backspacing"] == values["tyre width"] == values["poke"] == "unknown"


@pytest.mark.parametrize("axle", list(Axle))
def test_a_drawing_is_small_named_and_without_style(axle: Axle) -> None:
    text = str(made(subject(axle=axle)).svg)
    root = ElementTree.fromstring(text)
    assert len(list(root.iter())) <= 300
    assert len(gzip.compress(text.encode())) <= 8 * 1024
    assert root.get("role") == "img"
    named = (root.get("aria-labelledby") or "").split()
    ids = {element.get("id") for element in root.iter()}
    assert len(named) == 2
    assert set(named) <= ids
    assert not [element for element in root.iter() if "style" in element.attrib]
    assert "nan" not in text.lower()


@pytest.mark.parametrize("axle", list(Axle))
def test_a_drawing_says_where_it_is_seen_from_and_has_a_scale(axle: Axle) -> None:
    text = str(made(subject(axle=axle)).svg)
    assert "seen from behind" in text
    assert "outboard" in text
    assert ">100\u00a0mm<" in text
    assert ">4\u00a0in<" in text


def test_a_scale_bar_is_round_in_either_unit_and_as_long_as_it_says() -> None:
    bar = section.scene(subject()).bar
    # 4 in are 101.6 mm; lengths are written to a tenth of a unit
    assert bar_length(bar, "inch") / bar_length(bar) == pytest.approx(1.016, abs=0.003)


@pytest.mark.parametrize("axle", list(Axle))
def test_nothing_is_drawn_off_the_sheet(axle: Axle) -> None:
    scene = section.scene(subject(axle=axle))
    paths = [
        scene.tyre,
        scene.rim,
        scene.brake,
        *scene.stock,
        *(mark.path for mark in scene.sites if mark.path),
    ]
    for path in paths:
        numbers = [float(number) for number in NUMBER.findall(path)]
        assert all(0.0 <= x <= SHEET_WIDTH for x in numbers[0::2])
        assert all(0.0 <= y <= scene.height for y in numbers[1::2])


def test_members_words_are_escaped_in_a_drawing() -> None:
    overlay = (
        "chassis:\n  sites:\n    - {name: strut-tube, label: '<b>&\"', axle: front, "
        "facing: inboard, moves_with: knuckle, block: {x: 0 mm, y: -150 mm, z: 250 mm}, "
        "wanted: 5 mm}\n"
    )
    text = str(made(subject(overlay)).svg)
    assert "<b>" not in text
    assert "&lt;b&gt;&amp;" in text


def test_labels_never_cover_each_other() -> None:
    labels = [Label(100.0, ("a", "b")), Label(101.0, ("c",)), Label(30.0, ("d", "e", "f"))]
    places = stacked(labels, 0.0, 400.0)
    spans = sorted(
        (y - 26.0, y - 26.0 + label.height) for y, label in zip(places, labels, strict=True)
    )
    assert all(one[1] <= other[0] for one, other in itertools.pairwise(spans))


def test_the_drawing_of_signs_follows_from_its_example() -> None:
    # 7 in = 177.8 mm, offset 22 mm, spacer 8 mm, flanges 12.7 mm (common practice):
    # backspacing 88.9 + 12.7 + 22 = 123.6; effective offset 14; overall 177.8 + 25.4 = 203.2
    scene = signs.scene(SignsSubject("signs"))
    numbers = {fact.label: fact.value.value for fact in scene.numbers}
    assert numbers["backspacing B"] == pytest.approx(123.6)
    assert numbers["effective offset"] == pytest.approx(14.0)
    assert numbers["overall width"] == pytest.approx(203.2)
    assert [part.name for part in scene.parts] == ["hub face", "spacer s", "mounting face"]
    # The line of the backspacing starts at the rim's inboard lip, not in mid-air.
    line = next(each for each in scene.dimensions if each.name == "backspacing B")
    x, y = (float(text) for text in line.extensions[1].strip("M").partition("V")[0].split())
    corners = [float(text) for text in scene.rim.strip("Mz").split()]
    places = zip(corners[::2], corners[1::2], strict=True)
    assert y == max(down for across, down in places if abs(across - x) < 0.2)


def test_the_brake_is_named_inside_the_wheel_and_the_axis_ends_before_the_words() -> None:
    scene = section.scene(subject(axle=Axle.FRONT))
    inner = max(float(x) for x, _ in re.findall(r"([\d.]+) ([\d.]+)", scene.rim[1:])[:1])
    assert 0.0 < scene.brake_x < inner
    assert all(mark.words.lines[0][1] != "brake" for mark in scene.sites)
    end = float(scene.axis.rpartition("H")[2])
    begins = [mark.words.x for mark in scene.sites if mark.words.anchor == "start"]
    assert begins
    assert end < min(begins)


def test_lines_to_parts_that_overlap_lead_to_different_heights() -> None:
    label = "{name: wire, label: wire, axle: front, facing: inboard, moves_with: knuckle, block: "
    twice = [
        label.replace("wire", name) + f"{{x: 0 mm, y: {y} mm, z: 200 to 260 mm}}, wanted: 5 mm}}"
        for name, y in (("wire", "-150 to -140"), ("hose", "-146 to -136"))
    ]
    overlay = f"chassis:\n  sites:\n    - {twice[0]}\n    - {twice[1]}\nsetup: {{gaps: []}}\n"
    scene = section.scene(subject(overlay, axle=Axle.FRONT))
    feet = [mark.words.leader.split()[-1] for mark in scene.sites]
    assert len(set(feet)) == 2
    assert "Overlapping parts lie fore and aft." in scene.caption


def told_of(gaps: str, more: str = "") -> str:
    """Give the front drawing of the example with these gaps."""
    return str(made(subject(f"setup:\n  gaps: [{gaps}]\n{more}")).svg)


STOOD = "{site: fender-lip, side: left, state: static, gap: 62 mm}"
BOTH = STOOD.replace("left", "both")


@pytest.mark.parametrize(
    ("gaps", "more", "tones"),
    [
        # The lip moves with the body: standing alone it tells nothing of bump.
        (STOOD, "", ["unknown", "unknown"]),
        # Nobody looked at the right: nothing is said for the site, in no colour.
        (f"{STOOD}, {STOOD.replace('static', 'full bump')}", "", [""]),
        (f"{BOTH}, {BOTH.replace('static', 'full bump')}", "", ["clears"]),
        (f"{STOOD}, {STOOD.replace('static', 'full bump').replace('62 mm', 'touches')}", "",
         ["", "touches"]),
        (STOOD, "  rubs: [{site: fender-lip, side: both, grade: 2, when: once}]\n",
         ["", "touches"]),
        (STOOD.replace("static", "full bump").replace("62 mm", "touches"), "", ["touches"]),
        ("{site: fender-lip, side: right, state: full bump, gap: touches}", "", []),
    ],
)  # fmt: skip
def test_a_number_is_green_only_where_its_site_clears(
    gaps: str, more: str, tones: list[str]
) -> None:
    found = re.findall(r'class="dw-gap( dw-)?(\w*)"', told_of(gaps, more))
    assert [tone for _, tone in found] == tones


def test_the_gaps_of_a_withdrawn_record_have_no_tone() -> None:
    both = f"{STOOD}, {STOOD.replace('static', 'full bump')}"
    drawn = told_of(both, "  withdrawn: {date: 2025-09-01, reason: other hubs}\n")
    assert 'class="dw-gap"' in drawn
    assert "dw-clears" not in drawn
