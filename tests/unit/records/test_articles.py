"""The demo's handbook articles: read, linked, recomputed, cautious.

The numbers in the articles were worked by hand from the formulas shown there. Here each is taken
through the geometry kernels and must come out as printed.
"""

import re
from datetime import date
from functools import cache
from math import pi
from pathlib import Path
from posixpath import dirname, join, normpath

import pytest

from generator.geometry.axle import (
    Side,
    axle_tilt,
    centring_adjustment,
    lean_at,
    lowering_shift,
    rod_across,
)
from generator.geometry.bolt_pattern import chord, pitch_circle_from_chord
from generator.geometry.brake import remaining_pilot
from generator.geometry.fastening import (
    Stack,
    across_corners,
    bolt_on_spacer_checks,
    bolt_reach,
    bottoming_by_depth,
    engagement_from_stack,
    socket_check,
)
from generator.geometry.gearing import DiameterPair, diameter_mismatch
from generator.geometry.inspection import bore_clearance, weight_spread
from generator.geometry.lateral_rod import rod_shift
from generator.geometry.loads import CornerLoad, axle_load_check, bearing_moment_change
from generator.geometry.preload import clamp_from_torque
from generator.geometry.steering import camber_shift, lock_lost_at_rack, lock_lost_at_stop
from generator.geometry.threads import load_at_stress, metric_thread, turns_for
from generator.geometry.travel import (
    BumpStop,
    TravelLimits,
    bump_gained,
    remaining,
    squeezed_height,
)
from generator.geometry.tyre import (
    diameter_limits,
    greatest_indicated_speed,
    greatest_overall_width,
    overall_diameter,
    section_height,
    section_width_on_rim,
    true_speed_change,
)
from generator.geometry.wheel import WheelDimensions, position_change, tyre_faces, wheel_position
from generator.quantities.estimate import Basis, Estimate
from generator.reading.folder import Found, content_files
from generator.reading.photos import photo_files
from generator.records.checking import check
from generator.records.codes import all_codes
from generator.records.collect import collect
from generator.rendering.environment import build_environment
from generator.rendering.figures import give_figures, give_prose
from generator.rendering.prose import is_allowed_link
from generator.site import urls

CONTENT = Path(__file__).resolve().parents[3] / "content_demo"
PATHS = sorted((CONTENT / "articles").glob("*.md"))
CHASSIS = {path.stem for path in (CONTENT / "chassis").glob("*.yaml")}
SETUPS = {f"{path.parent.name}/{path.stem}" for path in (CONTENT / "setups").glob("*/*.yaml")}
DAY = date(2026, 11, 25)

CAUTIONS = {
    "choosing-width-offset-tyre": {"spacers", "load", "local codes"},
    "receiving-inspection": {"jacking", "fasteners", "brakes", "load"},
    "measuring-each-gap": {"jacking", "springs", "fasteners", "brake hose", "steering"},
    "mock-up": {"jacking", "springs", "brake hose", "steering", "fasteners"},
    "what-touches-where": {"spacers", "metal", "steering", "brake hose", "grades 3 and 4"},
    "spacers-studs-nuts-seats": {"fasteners", "spacers", "steering", "brake hose", "load"},
    "torque-and-retorque": {"fasteners", "jacking", "spacers", "load"},
    "stops-and-centring": {"springs", "jacking", "steering", "brake hose", "fasteners", "load"},
    "road-test": {"fasteners", "brake hose", "steering", "load", "jacking"},
    "a-good-record": set(),
    "flags-and-probabilities": set(),
}
DEFERS = re.compile(r"maker's (data|figure|manual|torque|handbook|own)|car maker's data", re.I)
CODES = re.compile(
    r"local (codes?|rules?)|your (local )?code|authority|where you (live|drive)", re.I
)
SAYS_LAWFUL = re.compile(
    r"\b(il)?legal|\b(un)?lawful|\broad-?\s?worth|\b(is|are) (permitted|approved|allowed)\b",
    re.I,
)


@cache
def content():
    return collect(Found(path.relative_to(CONTENT).as_posix(), path.read_bytes()) for path in PATHS)


def articles():
    return content().library.articles


@cache
def rendered(name):
    """Render as the guide does, with its own drawings; an unknown one raises."""
    environment = build_environment(inch_first=False)
    give_figures(environment)
    give_prose(environment)
    return environment.globals["article"](articles()[name].text)


def exact(value):
    return Estimate(value, 0.0, Basis.MEASURED)


def moved(width, offset, section, spacer=0.0):
    """Give inner, outer and track change against the invented Meridel's stock wheel."""

    def faces(code, inset, section_width, thickness):
        wheel = WheelDimensions(exact(code * 25.4), exact(inset))
        return tyre_faces(wheel_position(wheel, exact(thickness)), exact(section_width))

    change = position_change(faces(width, offset, section, spacer), faces(6.0, 24.0, 201.0, 0.0))
    return change.inner.value, change.outer.value, change.track.value


def placed():
    wheel = WheelDimensions(
        exact(177.8), exact(22.0), flange_inboard=exact(12.6), flange_outboard=exact(12.6)
    )
    return wheel_position(wheel, exact(0.0))


def stack(spacer, stud=36.0):
    return Stack(exact(stud), exact(spacer), exact(12.0))


def engagement(spacer):
    """Give stud past the pad, engaged length, its share of the diameter, and turns."""
    engaged = engagement_from_stack(stack(spacer), exact(18.0)).value
    return 36.0 - 12.0 - spacer, engaged, engaged / 12.0, turns_for(engaged, 1.5)


def clamped(torque, factor):
    """Give clamp in kN and share of the proof load of class 10.9 in per cent."""
    clamp = clamp_from_torque(torque, 12.0, nut_factor=factor)
    proof = load_at_stress(metric_thread(12.0, 1.5).stress_area, 830.0)
    return clamp / 1000.0, 100.0 * clamp / proof


def rod_shifts(length, rise):
    return tuple(rod_shift(length, rise, travel) for travel in (25, 40, 50, 85, -50, -90))


def tilted(up, down):
    tilt = axle_tilt(1428.0, up, down)[0]
    return tilt, lean_at(tilt, 290.0)


MERIDEL_ROD = rod_across(1015.0, body_height=46.0, axle_height=4.0, body_side=Side.LEFT)
STOP = BumpStop(62.0, 0.96, 0.4)
CHOOSING, MOCK_UP, SPACERS = "choosing-width-offset-tyre", "mock-up", "spacers-studs-nuts-seats"
TORQUE, STOPS, RECEIVING = "torque-and-retorque", "stops-and-centring", "receiving-inspection"
RECORD, MEASURING, TOUCHES = "a-good-record", "measuring-each-gap", "what-touches-where"

# article, the words with the number left open, what the kernels make of it
WORKED = [
    (CHOOSING, "12.6 + 22 = **{:.1f} mm**", (placed().backspacing.value,)),
    (CHOOSING, "({:.2f} in), and measures {:.1f} mm overall",
     (placed().backspacing.value / 25.4, placed().overall_width.value)),
    (CHOOSING, "| 22 | 0 | 206 | {:+.1f} | {:+.1f} | {:+.0f} |", moved(7.0, 22.0, 206.0)),
    (CHOOSING, "| 22 | 5 | 206 | {:+.1f} | {:+.1f} | {:+.0f} |", moved(7.0, 22.0, 206.0, 5.0)),
    (CHOOSING, "| 22 | 0 | 214 | {:+.1f} | {:+.1f} | {:+.0f} |", moved(7.0, 22.0, 214.0)),
    (CHOOSING, "| 20 | 0 | 243 | {:+.1f} | {:+.1f} | {:+.0f} |", moved(8.0, 20.0, 243.0)),
    (CHOOSING, "front | {:.0f} | {:.0f} | 214 | 22.5", moved(7.0, 22.5, 214.0)[:2]),
    (CHOOSING, "rear | {:.0f} | {:.0f} | 233 | 20.0", moved(7.5, 20.0, 233.0)[:2]),
    (CHOOSING, "209 mm on a 6-inch rim becomes {:.0f} mm on a 7-inch",
     (section_width_on_rim(209.0, 152.4, rim_width=177.8),)),
    (CHOOSING, "209 mm may measure {:.0f}", (greatest_overall_width(209.0),)),
    (CHOOSING, "8 mm more: {:.0f}", (greatest_overall_width(209.0, rim_protector=8.0),)),
    (CHOOSING, "381 + 2 × {:.0f} = **{:.0f} mm**",
     (section_height(195.0, 60.0), overall_diameter(381.0, section_height(195.0, 60.0)))),
    (CHOOSING, "between {:.0f} and {:.0f}",
     (diameter_limits(381.0, 117.0).least, diameter_limits(381.0, 117.0).greatest)),
    (CHOOSING, "go {:.1f} % faster",
     (true_speed_change(exact(612.0), exact(609.0)).value,)),
    (CHOOSING, "627 mm {:.1f} %", (true_speed_change(exact(627.0), exact(609.0)).value,)),
    (CHOOSING, "may show up to {:.0f}", (greatest_indicated_speed(100.0),)),
    (CHOOSING, "627 mm behind is {:.1f} % off", (-diameter_mismatch(
        DiameterPair(exact(609.0), exact(609.0)), DiameterPair(exact(612.0), exact(627.0))
    ).value,)),
    (CHOOSING, "so two carry {:.0f} kg", (axle_load_check(560.0, 560.0, axle_load=760.0).value,)),
    (RECEIVING, "spread by {:.1f} kg, which is {:.1f} %",
     (weight_spread((7.4, 7.5, 7.4, 7.5), 0.1).spread,
      weight_spread((7.4, 7.5, 7.4, 7.5), 0.1).percent)),
    (RECEIVING, "the spread is {:.1f} kg", (weight_spread((7.4, 7.5, 7.4, 8.1), 0.1).spread,)),
    (RECEIVING, "83.4 mm gives {:.0f} mm", (pitch_circle_from_chord(83.4, bolts=4),)),
    (RECEIVING, "111.3 mm gives {:.0f} mm", (pitch_circle_from_chord(111.3, bolts=5, apart=2),)),
    (RECEIVING, "only {:.1f} mm apart", (chord(117.0, bolts=5),)),
    (RECEIVING, "leaves {:.1f} mm: it centres",
     (bore_clearance(exact(61.6), exact(61.5)).clearance.value,)),
    (RECEIVING, "123.5 − 203.0 / 2 = **{:.1f} mm**", (123.5 - placed().overall_width.value / 2,)),
    (MEASURING, "1923 mm is **{:.1f} mm**", (1923.0 / pi,)),
    (MEASURING, "root {:.1f} mm", (Estimate(0.0, 0.5, Basis.MEASURED).plus(
        Estimate(0.0, 1.5, Basis.MEASURED)).u,)),
    (MEASURING, "together give ± {:.0f} mm", (Estimate(0.0, 4.0, Basis.MEASURED).plus(
        Estimate(0.0, 3.0, Basis.MEASURED)).u,)),
    (MOCK_UP, "**{:.1f}°**, and the tyre's top, 290 mm above the axle line, leans **{:.0f} mm",
     tilted(70.0, -60.0)),
    (MOCK_UP, "still leans it {:.0f} mm", tilted(35.0, -30.0)[1:]),
    (MOCK_UP, "is then {:.0f} to {:.0f} mm high",
     (squeezed_height(BumpStop(62.0, 0.96, 0.3)), squeezed_height(BumpStop(62.0, 0.96, 0.5)))),
    (TOUCHES, "at the top mount | {:.1f} mm at the lip (300 mm up)", (-camber_shift(-1.0, 300.0),)),
    (TOUCHES, "300 mm × sin 1° = {:.2f}", (-camber_shift(-1.0, 300.0),)),
    (SPACERS, "| M12 × 1.25 | 1.25 mm | {:.1f} | {:.1f} |",
     (turns_for(12.0, 1.25), turns_for(9.6, 1.25))),
    (SPACERS, "| M12 × 1.5 | 1.5 mm | {:.1f} | {:.1f} |",
     (turns_for(12.0, 1.5), turns_for(9.6, 1.5))),
    (SPACERS, "| M14 × 1.5 | 1.5 mm | {:.1f} | {:.1f} |",
     (turns_for(14.0, 1.5), turns_for(11.2, 1.5))),
    (SPACERS, "| 7/16-20 | 1.27 mm | {:.1f} | {:.1f} |",
     (turns_for(11.1125, 1.27), turns_for(8.89, 1.27))),
    (SPACERS, "| 1/2-20 | 1.27 mm | {:.1f} | {:.1f} |",
     (turns_for(12.7, 1.27), turns_for(10.16, 1.27))),
    (SPACERS, "| none | {:.0f} mm | {:.0f} mm | {:.2f} | {:.1f} |", engagement(0.0)),
    *((SPACERS, f"| {thick} mm | {{:.0f}} mm | {{:.0f}} mm | {{:.2f}} | {{:.1f}} |",
       engagement(float(thick))) for thick in (5, 8, 10, 12)),
    (SPACERS, "| 15 mm | {:.0f} mm | {:.0f} mm | **{:.2f}** | {:.1f} |", engagement(15.0)),
    (SPACERS, "leaves {:.0f} mm; two turns are {:.0f} mm: good",
     (bottoming_by_depth(stack(0.0), exact(30.0), pitch=1.5).value,
      bottoming_by_depth(stack(0.0), exact(30.0), pitch=1.5).bound)),
    (SPACERS, "bottoms {:.0f} mm too early",
     (-bottoming_by_depth(stack(0.0, 48.0), exact(30.0), pitch=1.5).value,)),
    (SPACERS, "10 mm longer is again {:.0f} mm in",
     (bolt_reach(exact(46.0), spacer=exact(10.0), pad=exact(12.0)).value,)),
    (SPACERS, "16 mm longer would need {:.0f} mm",
     (bolt_reach(exact(52.0), spacer=exact(10.0), pad=exact(12.0)).value,)),
    (SPACERS, "keeps {:.0f} mm through a 5 mm spacer, {:.0f} mm through a 7 mm one",
     (remaining_pilot(exact(9.0), exact(5.0)).value,
      remaining_pilot(exact(9.0), exact(7.0)).value)),
    (SPACERS, "measures {:.1f} mm over the corners", (across_corners(19.0),)),
    (SPACERS, "the pocket needs {:.1f} mm",
     (across_corners(19.0) + socket_check(exact(30.0), 19.0, socket_wall=2.5).bound,)),
    (SPACERS, "means at least **{:.0f} mm**", (bolt_on_spacer_checks(
        exact(25.0), 36.0, wheel_pocket=12.0, nut_height=16.0)[0].bound,)),
    (SPACERS, "moved out by 20 mm adds {:.0f} N·m",
     (bearing_moment_change(CornerLoad(3500.0, 300.0), 0.0, arm=20.0).straight.absolute,)),
    (SPACERS, "radius of 300 mm puts {:.0f} N·m",
     (bearing_moment_change(CornerLoad(3500.0, 300.0), 0.0, arm=20.0).inner_wheel.before,)),
    *((TORQUE, f"| {torque} N·m | {factor:.2f}, {word} | {{:.1f}} kN | {{:.0f}} % |",
       clamped(float(torque), factor))
      for torque in (95, 100) for factor, word in ((0.20, "dry"), (0.15, "greased"))),
    (TORQUE, "class 10.9 is {:.1f} kN (stress area {:.1f} mm²",
     (load_at_stress(metric_thread(12.0, 1.5).stress_area, 830.0) / 1000.0,
      metric_thread(12.0, 1.5).stress_area)),
    (TORQUE, "proof load of {:.1f} kN, both greased rows lie beyond",
     (load_at_stress(metric_thread(12.0, 1.5).stress_area, 580.0) / 1000.0,)),
    (STOPS, "Meridel, front | 62 mm | 0.96 | 10 mm | {:.1f} mm", (bump_gained(STOP, 10.0),)),
    (STOPS, "Meridel, rear | 58 mm | 0.90 | 8 mm | {:.1f} mm",
     (bump_gained(BumpStop(58.0, 0.9, 0.4), 8.0),)),
    (STOPS, "Sarrik, front | 48 mm | 0.68 | 10 mm | {:.1f} mm",
     (bump_gained(BumpStop(48.0, 0.68, 0.4), 10.0),)),
    (STOPS, "84 − 25 = **{:.0f} mm** of bump left instead of 84, and {:.0f} mm of droop",
     (remaining(TravelLimits(84.0, 76.0), 25.0).bump,
      remaining(TravelLimits(84.0, 76.0), 25.0).droop)),
    (STOPS, "| 1 mm | {:.2f}° | {:.2f}° |",
     (lock_lost_at_stop(1.0, 74.0), lock_lost_at_rack(1.0, 128.0, 36.5))),
    (STOPS, "| 3 mm | {:.2f}° | {:.2f}° |",
     (lock_lost_at_stop(3.0, 74.0), lock_lost_at_rack(3.0, 128.0, 36.5))),
    (STOPS, "| 5 mm | {:.2f}° |", (lock_lost_at_stop(5.0, 74.0),)),
    (STOPS, "moves {:.1f} mm for each degree", (280.0 * pi / 180.0,)),
    (STOPS, "draw it back by about **{:.0f} mm**",
     (280.0 * pi / 180.0 * lock_lost_at_stop(3.0, 74.0),)),
    (STOPS, "| L 1015, h 42 (Meridel) |" + " {:.1f} |" * 6, rod_shifts(1015.0, 42.0)),
    (STOPS, "| L 850, h 110 (short and steep) |" + " {:.1f} |" * 6, rod_shifts(850.0, 110.0)),
    (STOPS, "lowering explains {:.1f} mm", (-lowering_shift(MERIDEL_ROD, 25.0),)),
    (STOPS, "becomes **{:.1f} mm shorter**. With a thread of 1.5 mm pitch at one end, that is "
     "{:.1f} turns",
     (-centring_adjustment(MERIDEL_ROD, 25.0, shift=4.0 + lowering_shift(MERIDEL_ROD, 25.0)),
      turns_for(4.0, 1.5))),
    (STOPS, "The axle goes there by {:.1f} mm", (-rod_shift(1015.0, 42.0, -90.0),)),
    (RECORD, "stands {:.1f} mm further in and {:.1f} mm further out", moved(7.0, 24.0, 207.0)[:2]),
    (RECORD, "offset 24 make {:.1f} mm", (wheel_position(
        WheelDimensions(exact(177.8), exact(24.0), flange_inboard=exact(12.5)), exact(0.0)
    ).backspacing.value,)),
]  # fmt: skip


def printed(template, values):
    """Fill a template as the articles print numbers: a true minus, and no minus before zero."""
    filled = re.sub(r"-(0\.0+)(?!\d)", r"\1", template.format(*values))
    return re.sub(r"-(?=\d+\.\d)", "−", filled)


def prose_of(name):
    """Give an article's text without fenced blocks."""
    return re.sub(r"```.*?```", "", articles()[name].text, flags=re.S)


def caution_words(name):
    blocks = re.findall(r"^> \*\*Caution(?:: ([^*]*?))?\.\*\*", articles()[name].text, re.M)
    return " ".join(blocks).lower()


@pytest.fixture(params=[path.stem for path in PATHS])
def name(request):
    return request.param


def test_every_article_reads_without_a_fault():
    assert content().faults == ()
    assert set(articles()) == {path.stem for path in PATHS} >= set(CAUTIONS)


def test_titles_and_places_are_all_different():
    heads = [each.head for each in articles().values()]
    assert len({head.title for head in heads}) == len(heads)
    assert len({head.order for head in heads}) == len(heads)


def test_an_article_renders_with_headings_and_asks_for_no_unknown_drawing(name):
    shown = rendered(name)
    assert len(shown.headings) >= 4
    assert "<table" in shown.html


def test_an_article_has_the_length_of_one_sitting(name):
    words = re.findall(r"[\w'-]+", prose_of(name))
    assert 500 <= len(words) <= 1600


def test_every_link_leads_to_a_page_of_the_guide_or_to_https(name):
    pages = {urls.HOME, urls.FIND, urls.ARTICLES, urls.GLOSSARY, urls.FAULTS, urls.METHOD}
    pages |= {urls.article(each) for each in articles()}
    pages |= {urls.chassis(each) for each in CHASSIS} | {urls.setup(each) for each in SETUPS}
    parts = {urls.article(each): {h.ident for h in rendered(each).headings} for each in articles()}
    parts[urls.FAULTS] = {code.code.lower() for code in all_codes()}
    here = urls.article(name)
    addresses = re.findall(r"\]\(([^)]*)\)", prose_of(name))
    assert addresses
    for address in addresses:
        assert is_allowed_link(address)
        if address.startswith("https://"):
            continue
        target, _, part = address.partition("#")
        there = normpath(join(dirname(here), target)) if target else here
        assert there in pages, address
        assert not part or part in parts.get(there, set()), address


@pytest.mark.parametrize(
    ("where", "template", "values"), WORKED, ids=[f"{row[0]}: {row[1][:40]}" for row in WORKED]
)
def test_a_worked_number_comes_out_of_the_kernels_as_printed(where, template, values):
    assert printed(template, values) in " ".join(articles()[where].text.split())


def test_no_sentence_says_that_something_is_lawful(name):
    assert not SAYS_LAWFUL.search(articles()[name].text)


def test_the_cautions_stand_in_the_articles_that_need_them(name):
    found = caution_words(name)
    assert [word for word in CAUTIONS[name] if word not in found] == []
    assert "> **Caution" in articles()[name].text


def test_every_article_defers_to_the_maker_and_to_the_place(name):
    text = " ".join(articles()[name].text.split())
    assert DEFERS.search(text)
    assert CODES.search(text)
    assert "licensed" in text


def test_practice_or_a_source_is_named(name):
    assert re.search(r"common practice|second hand|from memory|CFR|UN R\d", articles()[name].text)


def test_the_example_record_checks_without_a_word():
    (example,) = re.findall(r"```yaml\n(.*?)```", articles()[RECORD].text, re.S)
    record = Found("setups/ostvane-meridel/thistlewick.yaml", example.encode())
    files, photos = content_files(CONTENT)[0], photo_files(CONTENT)[0]
    around, collected = collect(files, photos), collect([*files, record], photos)
    assert collected.faults == ()
    assert collected.library.setups["ostvane-meridel/thistlewick"].is_complete
    assert check(collected.library, today=DAY) == check(around.library, today=DAY)


def test_the_example_record_speaks_of_every_site_of_its_sheet():
    (example,) = re.findall(r"```yaml\n(.*?)```", articles()[RECORD].text, re.S)
    sheet = (CONTENT / "chassis" / "ostvane-meridel.yaml").read_text("utf-8")
    sites = set(re.findall(r"^  - name: (\S+)", sheet, re.M))
    assert len(sites) > 15
    assert {site for site in sites if f"site: {site}," not in example} == set()
