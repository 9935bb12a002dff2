"""The site before the last, of which the next is made: what it spares, and what is done to it.

The expected site is what was asked to be written, byte for byte, whatever happened to the spare.
"""

import errno
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.reading.trouble import GuideError
from generator.rendering import output
from generator.rendering.ground import Ground
from generator.rendering.looks import Look, looks_below
from generator.rendering.manifest import MARKER, Artifact
from generator.rendering.output import Written, write_site
from generator.rendering.spare import NAME
from tests.unit.rendering.test_output import CALLS, Fault, held

Files = dict[str, bytes]
STILL: Files = {f"still/{at}/{at}.html": b"still" * 40 for at in range(12)}
STATES: tuple[Files, ...] = (
    STILL | {"index.html": b"first", "a/one.html": b"one"},
    STILL | {"index.html": b"second", "a/one.html": b"one", "b/c/two.html": b"two"},
    STILL | {"index.html": b"third", "d/four.html": b"four"},
    STILL | {"index.html": b"fourth", "a/one.html": b"other", "d/four.html": b"four"},
)


class Place:
    """A site with its cache, as builds find them one after another."""

    def __init__(self, folder: Path) -> None:
        self.site, self.spare = folder / "site", folder / "cache" / NAME
        self.source = folder / "content"
        self.source.mkdir(parents=True)
        self.spare.parent.mkdir()
        self.looks: dict[str, Look] = {}

    def write(self, files: Files) -> Written:
        artifacts = [Artifact(path, content) for path, content in files.items()]
        written = write_site(
            artifacts, self.site, source=self.source, looks=self.looks, spare=self.spare
        )
        found = looks_below(self.site)
        self.looks = {path: look for path, look in found.items() if look is not None}
        return written

    def beside(self) -> list[str]:
        return sorted(path.name for path in self.site.parent.iterdir())


@pytest.fixture
def place(tmp_path: Path) -> Place:
    """A place where two builds have been, so that a spare lies there."""
    place = Place(tmp_path)
    place.write(STATES[0])
    place.write(STATES[1])
    assert held(place.spare) == STATES[0]
    return place


def test_only_what_changed_is_touched(place: Place, monkeypatch: pytest.MonkeyPatch) -> None:
    touched: list[str] = []

    def counted(name: str) -> Callable[..., object]:
        real = getattr(os, name)

        def call(*given: object, **named: object) -> object:
            touched.append(str(given[0]))
            return real(*given, **named)

        return call

    before = {path: look for path, look in place.looks.items() if path in STILL}
    for name in ("link", "unlink", "mkdir", "rmdir"):
        monkeypatch.setattr(os, name, counted(name))
    for state in (*STATES[2:], *STATES):
        place.write(state)
        assert held(place.site) == state
        assert place.beside() == ["cache", "content", "site"]
    assert not [path for path in touched if "/still/" in path]
    # Neither size nor times nor place of what stayed is another, nor how many names it has.
    assert {path: look for path, look in place.looks.items() if path in STILL} == before
    # Done without a spare it would be two for each of the files, six times over.
    assert len(touched) < len(STILL) * 6


def test_the_looks_of_what_stayed_need_not_be_taken_again(place: Place) -> None:
    for state in STATES[2:]:
        written = place.write(state)
        assert set(STILL) <= set(written.untouched)
        assert {*written.untouched, *written.fresh} == {*state, MARKER}
        assert not {*written.untouched} & {*written.fresh}
        assert all(place.looks[path] == look for path, look in written.untouched.items())


def _edit_in_place(path: Path) -> None:
    with path.open("r+b") as file:
        file.write(b"S")


def _replace_by_other(path: Path) -> None:
    content = path.read_bytes()
    path.unlink()
    path.write_bytes(content)


PAGE = "still/3/3.html"
HARMS: dict[str, Callable[[Path], object]] = {
    "another file": lambda spare: (spare / "mine.html").write_bytes(b"mine"),
    "another file below": lambda spare: (spare / "still/3/mine.html").write_bytes(b"mine"),
    "another folder": lambda spare: (spare / "mine").mkdir(),
    "a file gone": lambda spare: (spare / PAGE).unlink(),
    "a folder gone": lambda spare: shutil.rmtree(spare / "still/3"),
    "a file edited in place": lambda spare: _edit_in_place(spare / PAGE),
    "a file replaced": lambda spare: _replace_by_other(spare / PAGE),
    "a link": lambda spare: (spare / "link.html").symlink_to(spare / PAGE),
    "a folder that is a link": lambda spare: (
        (spare / "still").rename(spare.parent / "far"),
        (spare / "still").symlink_to(spare.parent / "far"),
    ),
    "a list cut short": lambda spare: (spare / MARKER).write_bytes(
        (spare / MARKER).read_bytes()[:200]
    ),
    "a list of more": lambda spare: (spare / MARKER).write_bytes(
        (spare / MARKER).read_bytes().replace(b"a/one.html", b"a/two.html")
    ),
    "no list": lambda spare: (spare / MARKER).unlink(),
    "nothing in it": lambda spare: (shutil.rmtree(spare), spare.mkdir()),
    "none": shutil.rmtree,
    "a file in its place": lambda spare: (shutil.rmtree(spare), spare.write_bytes(b"x")),
    "a link in its place": lambda spare: (
        spare.rename(spare.parent / "far"),
        spare.symlink_to(spare.parent / "far"),
    ),
}


@pytest.mark.parametrize("harm", HARMS.values(), ids=HARMS)
def test_a_spare_that_somebody_touched_changes_no_byte(
    place: Place, harm: Callable[[Path], object]
) -> None:
    harm(place.spare)
    for state in (*STATES[2:], STATES[0]):
        place.write(state)
        assert held(place.site) == state
        assert place.beside() == ["cache", "content", "site"]


def test_a_page_changed_in_the_site_is_mended_though_the_spare_has_it_too(place: Place) -> None:
    _edit_in_place(place.site / PAGE)
    assert (place.spare / PAGE).read_bytes() != STILL[PAGE]
    place.write(STATES[2])
    assert held(place.site) == STATES[2]


def test_a_folder_of_another_account_is_not_made_the_site_s(
    place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = os.open(place.spare / "still", os.O_RDONLY)  # so that no other gets its number
    monkeypatch.setattr(os, "getuid", lambda: os.geteuid() + 1)
    place.write(STATES[2])
    assert held(place.site) == STATES[2]
    assert not os.path.samestat(os.fstat(folder), (place.site / "still").stat())
    os.close(folder)


def test_folders_that_others_may_not_read_are_not_made_the_site_s(place: Place) -> None:
    (place.spare / "still").chmod(0o700)
    place.write(STATES[2])
    assert (place.site / "still").stat().st_mode == place.site.stat().st_mode


def test_the_spare_of_another_site_is_of_no_use(place: Place, tmp_path: Path) -> None:
    other = Place(tmp_path / "other")
    other.spare = place.spare
    other.write(STATES[0])
    other.write(STATES[1])
    other.write(STATES[2])
    place.write(STATES[3])
    assert held(place.site) == STATES[3]
    assert held(other.site) == STATES[2]


def test_files_of_others_are_kept_and_never_put_aside(place: Place) -> None:
    mine = {"CNAME": b"host", "still/3/note.txt": b"note", "mine/deep/note.txt": b"note"}
    for path, content in mine.items():
        (place.site / path).parent.mkdir(parents=True, exist_ok=True)
        (place.site / path).write_bytes(content)
    (place.site / "mine/empty").mkdir()
    for state in (*STATES[2:], *STATES):
        written = place.write(state)
        assert written.foreign == tuple(sorted((*mine, "mine/empty/")))
        assert not written.untouched
        assert held(place.site) == state | mine
        assert (place.site / "mine/empty").is_dir()
        assert not {*held(place.spare)} & {*mine}


def test_a_file_of_others_that_came_at_the_last_moment_is_kept(
    place: Place, monkeypatch: pytest.MonkeyPatch
) -> None:
    swap = output.swap

    def late(ground: Ground) -> None:
        (ground.target / "still/3/late.txt").write_bytes(b"late")
        swap(ground)

    monkeypatch.setattr(output, "swap", late)
    place.write(STATES[2])
    assert held(place.site) == STATES[2] | {"still/3/late.txt": b"late"}
    assert held(place.spare) == STATES[1]


def test_what_changed_much_is_not_put_aside(place: Place) -> None:
    place.write({path: content + b"!" for path, content in STATES[1].items()})
    assert not place.spare.exists()


@pytest.mark.parametrize("lasting", [False, True], ids=["once", "lasting"])
def test_a_fault_at_any_call_leaves_a_whole_site_and_the_next_build_recovers(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, lasting: bool
) -> None:
    monkeypatch.setattr(os, "fsync", lambda _: None)  # only a loss of power needs more
    number, failed = 0, 0
    while True:
        number += 1
        place = Place(tmp_path / str(number))
        place.write(STATES[0])
        place.write(STATES[1])
        (place.site / "CNAME").write_bytes(b"host")
        fault = Fault(number, errno.EIO, lasting=lasting)
        with pytest.MonkeyPatch.context() as patch:
            for name in (*CALLS, "link"):
                patch.setattr(os, name, fault.around(getattr(os, name)))
            try:
                place.write(STATES[2])
            except GuideError:
                failed += 1
            fault.is_over = True
        folder = place.site if place.site.exists() else place.site.parent / ".site.gapbook-old"
        now = {path: content for path, content in held(folder).items() if path != "CNAME"}
        assert now in STATES[1:3]
        place.write(STATES[3])
        assert held(place.site) == STATES[3] | {"CNAME": b"host"}
        assert place.beside() == ["cache", "content", "site"]
        shutil.rmtree(place.site.parent)
        if fault.count < number:
            break
    assert failed > 3
