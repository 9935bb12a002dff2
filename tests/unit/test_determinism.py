"""The same records give the same bytes: from another folder, in another place, in any order."""

import hashlib
import os
import random
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "content_demo"
CHASSIS = "ostvane-meridel"


def small_club(folder: Path, seed: int) -> Path:
    """Copy a part of the demo; the files come into being in an order that the seed decides."""
    wanted = [DEMO / "club.yaml", DEMO / "chassis" / f"{CHASSIS}.yaml"]
    wanted += sorted((DEMO / "setups" / CHASSIS).glob("*.yaml"))[:4]
    wanted += [DEMO / "setups" / CHASSIS / "fernhollow-staggered.yaml"]  # an old address leads here
    wanted += sorted((DEMO / "photos" / CHASSIS).rglob("*.jpg"))
    wanted += sorted((DEMO / "articles").glob("*.md"))
    wanted += [path for path in (DEMO / "chassis").glob("*.yaml") if path not in wanted]
    random.Random(seed).shuffle(wanted)
    for path in wanted:
        copy = folder / path.relative_to(DEMO)
        copy.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, copy)
    return folder


def hashes(site: Path) -> dict[str, str]:
    return {
        path.relative_to(site).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }


ANEW = ("--no-cache", "--workers", "1")
"""Nothing of another build is taken over."""


def build(content: Path, site: Path, *options: str, **environment: str) -> dict[str, str]:
    site.parent.mkdir(parents=True, exist_ok=True)
    words = [sys.executable, "-m", "generator", "build", str(content), "--out", str(site)]
    words += options
    base = {name: value for name, value in os.environ.items() if name != "PYTHONHASHSEED"}
    environment = {**base, "PYTHONPATH": str(ROOT), **environment}
    result = subprocess.run(
        words, env=environment, cwd=content.parent, capture_output=True, text=True, check=False
    )
    assert result.returncode == 0, result.stderr
    return hashes(site)


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    here = tmp_path_factory.mktemp("first")
    surroundings = {"TZ": "Pacific/Kiritimati", "LC_ALL": "C", "PYTHONHASHSEED": "1"}
    return build(small_club(here / "content", 1), here / "site", *ANEW, **surroundings)


def test_another_folder_zone_locale_seed_and_order_change_no_byte(
    first: dict[str, str], tmp_path: Path
) -> None:
    far = tmp_path / "a much longer path" / "than before"
    second = build(
        small_club(far / "club content", 2), far / "out" / "site", "--no-cache", "--workers", "2",
        TZ="America/St_Johns", LC_ALL="de_DE.UTF-8", LANG="de_DE.UTF-8", PYTHONHASHSEED="4242",
    )  # fmt: skip
    assert sorted(second) == sorted(first)
    assert [name for name in first if first[name] != second[name]] == []


def test_building_again_over_the_old_site_changes_no_byte(
    first: dict[str, str], tmp_path: Path
) -> None:
    content = small_club(tmp_path / "content", 3)
    once = build(content, tmp_path / "site")
    assert build(content, tmp_path / "site") == once == first


def test_the_site_holds_neither_its_place_nor_its_time(
    tmp_path: Path,
) -> None:
    site = tmp_path / "site"
    build(small_club(tmp_path / "content", 4), site, *ANEW)
    for path in site.rglob("*"):
        if path.is_file():
            text = path.read_bytes()
            assert str(tmp_path).encode() not in text, path
            assert str(ROOT).encode() not in text, path
