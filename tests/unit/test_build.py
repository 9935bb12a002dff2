"""One site, however it is made: at once, chassis by chassis, by several processes, from a cache."""

import random
import re
import shutil
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from generator import building, computing, finished
from generator.build import Built, build
from generator.cache import program
from generator.cache.sealed import unseal
from generator.cache.store import Nowhere, Store
from generator.checked import Checked, checked
from generator.computing import guide_of, inputs_of
from generator.reading.folder import content_files
from generator.reading.history import history_of
from generator.reading.photos import photo_files
from generator.records.checking import check
from generator.records.collect import Collected, collect
from generator.records.examples import example_files
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.rendering import environment, render
from generator.rendering.manifest import MARKER, Artifact
from generator.rendering.photos import files_of_photos
from generator.rendering.render import render as rendered
from generator.site.guide import Guide
from generator.site.page import Page
from generator.site.plan import plan, plan_files
from generator.workers import Crew

TODAY = date(2026, 11, 25)
TWO_CARS = """
setup: {title: The first of two}
other: {title: The second, gaps: []}
other chassis: {name: Another Car}
"""
KEY = bytes(range(32))
Pages = tuple[Page, ...]


def small_club(folder: Path) -> Path:
    for file in example_files(TWO_CARS):
        path = folder / file.path
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(file.content)
    return folder


def files(site: Path) -> dict[str, bytes]:
    return {
        path.relative_to(site).as_posix(): path.read_bytes()
        for path in site.rglob("*")
        if path.is_file() and path.name != MARKER
    }


def made(content: Path, site: Path, cache: Store | None = None, workers: int = 1) -> Built:
    built = build(content, site, leave_out_faulty=True, today=TODAY, cache=cache, workers=workers)
    assert site.is_dir(), built
    return built


def store(folder: Path, key: bytes = KEY) -> Store:
    opened = Store.opened(folder, key)
    assert opened is not None
    return opened


@pytest.fixture(scope="module")
def content(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return small_club(tmp_path_factory.mktemp("club") / "content")


@pytest.fixture(scope="module")
def cold(content: Path, tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    site = tmp_path_factory.mktemp("cold") / "site"
    made(content, site)
    return files(site)


@pytest.fixture(scope="module")
def filled(content: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A cache that one build by two processes has filled, with its site beside it."""
    here = tmp_path_factory.mktemp("filled")
    made(content, here / "site", store(here / "cache"), workers=2)
    return here


def test_chassis_by_chassis_is_the_same_as_all_at_once(
    content: Path, cold: dict[str, bytes], tmp_path: Path
) -> None:
    found, odd = content_files(content)
    photos, unfit = photo_files(content)
    collected = collect(found, photos)
    ruled = check(collected.library, today=TODAY)
    faults = {*odd, *unfit, *collected.faults, *ruled}
    guide = replace(
        guide_of(collected, tuple(sorted(faults, key=lambda fault: fault.order))),
        inputs=inputs_of(found, photos),
        history=history_of(content, found),
    )
    pages = plan(guide)
    kept = files_of_photos(content, guide, store(tmp_path / "photos"))
    pictures = [Artifact(each.entry.path, Path(each.file).read_bytes()) for each in kept]
    whole = rendered(guide, pages, plan_files(guide, pages), pictures)
    at_once = {str(each.path): each.content for each in whole}
    assert sorted(at_once) == sorted(cold)
    assert [path for path in cold if cold[path] != at_once[path]] == []


def test_two_processes_and_a_cache_give_the_same(filled: Path, cold: dict[str, bytes]) -> None:
    assert files(filled / "site") == cold


def test_nothing_changed_is_told_at_a_glance(content: Path, filled: Path) -> None:
    before = {path: path.stat().st_ino for path in (filled / "site").rglob("*")}
    told = made(content, filled / "site", store(filled / "cache")).told
    assert "(0 changed, 0 removed)" in told
    assert {path: path.stat().st_ino for path in (filled / "site").rglob("*")} == before


def test_a_touched_site_is_seen_and_mended(
    content: Path, filled: Path, cold: dict[str, bytes]
) -> None:
    page = filled / "site" / "index.html"
    kept = page.read_bytes()
    page.unlink()
    page.write_bytes(kept.replace(b"a", b"b"))
    made(content, filled / "site", store(filled / "cache"))
    assert files(filled / "site") == cold


def test_a_page_edited_in_place_is_mended_though_the_cache_has_the_same_file(
    content: Path, filled: Path, cold: dict[str, bytes]
) -> None:
    page = next((filled / "site" / "setups").rglob("*.html"))
    assert page.stat().st_nlink > 1
    with page.open("ab") as file:
        file.write(b"!")
    built = made(content, filled / "site", store(filled / "cache"))
    assert files(filled / "site") == cold
    assert any("changed file" in note for note in built.notes)


def test_a_site_made_of_the_one_before_the_last_is_known_at_a_glance(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    content = small_club(tmp_path / "content")
    for seed in range(3):
        change(content, random.Random(seed))
        made(content, tmp_path / "site", store(tmp_path / "cache"))
    assert (tmp_path / "cache" / "spare-site" / MARKER).is_file()
    monkeypatch.setattr(building, "open_up", None)
    assert (
        "(0 changed, 0 removed)" in made(content, tmp_path / "site", store(tmp_path / "cache")).told
    )


def test_a_deleted_site_comes_back_from_the_cache(
    content: Path, filled: Path, cold: dict[str, bytes], tmp_path: Path
) -> None:
    made(content, tmp_path / "site", store(filled / "cache"))
    assert files(tmp_path / "site") == cold


def test_a_deleted_cache_changes_nothing(
    content: Path, cold: dict[str, bytes], filled: Path, tmp_path: Path
) -> None:
    made(content, filled / "site", store(tmp_path / "fresh"))
    assert files(filled / "site") == cold


@pytest.mark.parametrize(
    "harm",
    [
        lambda content: content[:-1] + bytes([content[-1] ^ 1]),
        lambda content: content[: len(content) // 2],
        lambda _: b"",
    ],
    ids=["a bit", "half", "all"],
)
def test_a_damaged_cache_is_not_used_and_told_of(
    content: Path,
    filled: Path,
    cold: dict[str, bytes],
    tmp_path: Path,
    harm: Callable[[bytes], bytes],
) -> None:
    cache = store(filled / "cache")
    for path in (filled / "cache" / "values").rglob("*"):
        if path.is_file():
            path.write_bytes(harm(path.read_bytes()))
    built = made(content, tmp_path / "site", cache)
    assert files(tmp_path / "site") == cold
    assert any("damaged" in note for note in built.notes)


def test_a_cache_of_another_key_is_not_used(
    content: Path, filled: Path, cold: dict[str, bytes], tmp_path: Path
) -> None:
    built = made(content, tmp_path / "site", store(filled / "cache", bytes(32)))
    assert files(tmp_path / "site") == cold
    assert any("another key" in note for note in built.notes)


def add(content: Path, chance: random.Random) -> None:
    old = chance.choice(sorted((content / "setups").rglob("*.yaml")))
    text = old.read_text("utf-8").replace("supersedes", "# supersedes")
    (old.parent / f"added-{chance.randrange(1000)}.yaml").write_text(text, "utf-8")


def change(content: Path, chance: random.Random) -> None:
    path = chance.choice(sorted((content / "setups").rglob("*.yaml")))
    lines = path.read_text("utf-8").splitlines()
    kept = [line for line in lines if not line.startswith("title:")]
    title = f"title: Changed for the {chance.randrange(1000)}th time"
    path.write_text("\n".join([title, *kept]) + "\n", "utf-8")


def delete(content: Path, chance: random.Random) -> None:
    found = sorted((content / "setups").rglob("*.yaml"))
    if len(found) > 1:
        chance.choice(found).unlink()


def rename(content: Path, chance: random.Random) -> None:
    path = chance.choice(sorted((content / "setups").rglob("*.yaml")))
    path.rename(path.with_name(f"renamed-{chance.randrange(1000)}.yaml"))


def settings(content: Path, chance: random.Random) -> None:
    path = content / "club.yaml"
    lines = path.read_text("utf-8").splitlines()
    kept = [line for line in lines if not line.startswith(("title:", "offline:"))]
    title, offline = f"title: Guide {chance.randrange(9)}", chance.choice(("yes", "no"))
    path.write_text("\n".join([title, f"offline: {offline}", *kept]) + "\n", "utf-8")


def sheet(content: Path, chance: random.Random) -> None:
    path = chance.choice(sorted((content / "chassis").glob("*.yaml")))
    path.write_text(path.read_text("utf-8") + f"# {chance.randrange(1000)}\n", "utf-8")


def replaces(content: Path, chance: random.Random) -> None:
    """Let one record replace another of its chassis, or none any more."""
    path = chance.choice(sorted((content / "setups").rglob("*.yaml")))
    kept = [one for one in path.read_text("utf-8").splitlines() if not one.startswith("supersedes")]
    others = sorted(other.stem for other in path.parent.glob("*.yaml") if other != path)
    if others and chance.random() < MORE_OFTEN:
        kept.append(f"supersedes: {chance.choice(others)}")
    path.write_text("\n".join(kept) + "\n", "utf-8")


def withdrawn(content: Path, chance: random.Random) -> None:
    path = chance.choice(sorted((content / "setups").rglob("*.yaml")))
    text = path.read_text("utf-8")
    if "withdrawn" not in text:
        path.write_text(text + "withdrawn: {date: 2026-03-01, reason: sold}\n", "utf-8")


def gap(content: Path, chance: random.Random) -> None:
    path = chance.choice(sorted((content / "setups").rglob("*.yaml")))
    text = path.read_text("utf-8")
    found = re.findall(r"gap: [0-9.]+ mm", text)
    if found:
        new = f"gap: {chance.randrange(1, 30)} mm"
        path.write_text(text.replace(chance.choice(found), new, 1), "utf-8")


def alias(content: Path, chance: random.Random) -> None:
    """Spell a member as the same one or another is spelled elsewhere, more or less."""
    path = chance.choice(sorted((content / "setups").rglob("*.yaml")))
    kept = [line for line in path.read_text("utf-8").splitlines() if "member:" not in line[:7]]
    kept.append(f"member: {chance.choice(('Copperbill', 'copperbill', 'Teasel', 'Tea-sel'))}")
    path.write_text("\n".join(kept) + "\n", "utf-8")


def day(content: Path, chance: random.Random) -> None:
    path = chance.choice(sorted((content / "setups").rglob("*.yaml")))
    kept = [line for line in path.read_text("utf-8").splitlines() if line[:5] != "date:"]
    kept.append(f"date: {chance.choice(('2025-06-14', '2025-06-15', '2031-01-01'))}")
    path.write_text("\n".join(kept) + "\n", "utf-8")


def broken(content: Path, chance: random.Random) -> None:
    """Break a record or a sheet: a field that nothing knows, a bad number, no YAML at all."""
    path = chance.choice(sorted(content.rglob("*/*.yaml")))
    more = chance.choice(("colour: red\n", "front: 3\n", "[\n"))
    path.write_text(path.read_text("utf-8") + more, "utf-8")


def strayed(content: Path, chance: random.Random) -> None:
    """Put a record into another chassis' folder, or let it name a chassis that nobody knows."""
    path = chance.choice(sorted((content / "setups").rglob("*.yaml")))
    folder = chance.choice(sorted((content / "chassis").glob("*.yaml"))).stem
    if chance.random() < MORE_OFTEN:
        (content / "setups" / folder).mkdir(exist_ok=True)
        path.rename(content / "setups" / folder / path.name)
    else:
        text = re.sub("(?m)^chassis: .*$", "chassis: nobody-knows", path.read_text("utf-8"))
        path.write_text(text, "utf-8")


def called_alike(content: Path, chance: random.Random) -> None:
    path = chance.choice(sorted((content / "chassis").glob("*.yaml")))
    text = re.sub("(?m)^name: .*$", "name: Another Car", path.read_text("utf-8"))
    path.write_text(text, "utf-8")


MORE_OFTEN = 0.6
EDITS = (add, change, delete, rename, settings, sheet, replaces, withdrawn, gap, alias, day)
FAULTY = (*EDITS, broken, strayed, called_alike)


@pytest.fixture
def own_templates(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Templates of this test alone, which it may change."""
    folder = tmp_path / "templates"
    shutil.copytree(environment.template_folder(), folder)
    for module in (environment, render, building):
        monkeypatch.setattr(module, "template_folder", lambda: folder)
    monkeypatch.setattr(program, "_TEMPLATES", (folder,))
    program.program_and_templates.cache_clear()
    yield folder
    program.program_and_templates.cache_clear()


def template(folder: Path, chance: random.Random) -> None:
    """Change a page, a drawing, the style or a script, as the next edition of the program would."""
    name = chance.choice(("pages/setup.html", "pages/home.html", "components/table/table.html"))
    path = folder / name
    path.write_text(
        path.read_text("utf-8").replace("<h2", f'<h2 title="{chance.random()}"'), "utf-8"
    )
    style = folder / "styles" / "changed.css"
    style.write_text(f"main {{ order: {chance.randrange(1000)} }}\n", "utf-8")
    program.program_and_templates.cache_clear()


@pytest.mark.parametrize("seed", range(4))
def test_after_any_edits_the_cached_site_is_that_of_a_cold_build(
    filled: Path, tmp_path: Path, own_templates: Path, seed: int
) -> None:
    chance = random.Random(seed)
    content = small_club(tmp_path / "content")
    for step in range(3):
        for edit in chance.sample(EDITS, chance.randint(1, 2)):
            edit(content, chance)
        if chance.random() < MORE_OFTEN:
            template(own_templates, chance)
        made(content, tmp_path / "site", store(filled / "cache"), workers=step % 2 + 1)
    made(content, tmp_path / "cold", workers=1)
    assert files(tmp_path / "site") == files(tmp_path / "cold")


def checked_both_ways(content: Path, cache: Store, workers: int) -> tuple[Checked, Collected]:
    """Check a folder as a build and `check` do, and hold both to a look at everything."""
    with Crew(workers) as crew:
        state = checked(content, TODAY, cache, crew)
        unkept = checked(content, TODAY, Nowhere(), crew)
    found, odd = content_files(content)
    photos, unfit = photo_files(content)
    collected = collect(found, photos)
    ruled = check(collected.library, today=TODAY)
    assert set(state.faults) == {*odd, *unfit, *collected.faults, *ruled}
    assert unkept.faults == state.faults
    return state, collected


def test_a_record_in_a_wrong_folder_is_held_against_the_chassis_that_it_names(
    tmp_path: Path,
) -> None:
    content = small_club(tmp_path / "content")
    cache = store(tmp_path / "cache")
    (record,) = (
        path
        for path in content.rglob("setups/*/*.yaml")
        if "gaps: []" not in path.read_text("utf-8")
    )
    copy = content / "setups" / "another-car" / "a-copy.yaml"
    copy.parent.mkdir()
    text = re.sub("(?m)^member: .*$", "member: Somebody Else", record.read_text("utf-8"))
    copy.write_text(text, "utf-8")
    state, _ = checked_both_ways(content, cache, 1)
    assert {"L02", "L07"} <= {fault.code for fault in state.faults}


@pytest.mark.parametrize("seed", range(12))
def test_after_any_edits_as_much_is_wrong_as_a_look_at_everything_finds(
    filled: Path, tmp_path: Path, seed: int
) -> None:
    chance = random.Random(seed)
    content = small_club(tmp_path / "content")
    (content / "setups" / "another-car").mkdir(exist_ok=True)
    cache = store(filled / "cache")
    for step in range(6):
        for edit in chance.sample(FAULTY, 2):
            edit(content, chance)
        if not list((content / "setups").rglob("*.yaml")):
            break
        state, collected = checked_both_ways(content, cache, step % 2 + 1)
        library = collected.library
        assert list(state.library.setups) == list(library.setups)
        assert {**state.library.listed} == {**library.listed}
        assert state.library.unread == library.unread
        assert [each.bearing for each in state.library.setups.values()] == [
            each.bearing for each in library.setups.values()
        ]
        assert list(state.library.chassis) == list(library.chassis)


def test_a_changed_word_has_the_pages_of_one_setup_made_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    content = small_club(tmp_path / "content")
    add(content, random.Random(1))
    made(content, tmp_path / "site", store(tmp_path / "cache"))
    change(content, random.Random(2))
    asked: list[str] = []
    make = finished.setup_pages

    def counted(part: Guide, setup: Filed[Setup], *rest: Mapping[str, Filed[Setup]]) -> Pages:
        asked.append(setup.id)
        return make(part, setup, *rest)

    monkeypatch.setattr(finished, "setup_pages", counted)
    made(content, tmp_path / "site", store(tmp_path / "cache"))
    assert len(asked) == 1
    made(content, tmp_path / "cold")
    assert files(tmp_path / "site") == files(tmp_path / "cold")


def test_whatever_is_kept_can_be_taken_back(content: Path, tmp_path: Path) -> None:
    made(content, tmp_path / "site", store(tmp_path / "cache"))
    kept = [path for path in (tmp_path / "cache" / "values").rglob("*") if path.is_file()]
    assert len(kept) > 20
    for path in kept:
        unseal(path.read_bytes(), path.name, KEY)


def test_a_changed_template_has_pages_written_anew_and_nothing_computed(
    content: Path, tmp_path: Path, own_templates: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made(content, tmp_path / "site", store(tmp_path / "cache"))
    before = files(tmp_path / "site")
    template(own_templates, random.Random(3))
    with monkeypatch.context() as patched:
        patched.setattr(computing, "assess", refused)
        patched.setattr(computing, "all_numbers", refused)
        made(content, tmp_path / "site", store(tmp_path / "cache"))
    after = files(tmp_path / "site")
    assert after != before
    made(content, tmp_path / "cold")
    assert after == files(tmp_path / "cold")


def refused(*_: object) -> None:
    raise AssertionError("computed again, though only a template has changed")
