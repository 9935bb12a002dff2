"""Scripts: well-formed, small, named by what is in them, and importing what is there."""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

from generator.rendering.environment import template_folder
from generator.rendering.scripts import scripts, without_remarks

SOURCES = sorted((template_folder() / "scripts").rglob("*.js"))


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.stem)
def test_a_script_is_well_formed(path: Path) -> None:
    node = shutil.which("node")
    if node is None:
        pytest.skip("there is no node here; the browser's tests read the scripts too")
    checked = subprocess.run(
        [node, "--check", "--input-type=module"],
        input=without_remarks(path.read_bytes().decode()),
        capture_output=True,
        text=True,
        check=False,
    )
    assert checked.returncode == 0, checked.stderr


def test_an_import_names_the_hash_of_what_it_imports() -> None:
    made = scripts(template_folder())
    names = {asset.name for asset in made.values()}
    found = [
        name
        for asset in made.values()
        for name in re.findall(r'from "\./([^"]+)"', asset.body.decode())
    ]
    assert found
    assert set(found) <= names


def test_a_name_follows_what_a_script_imports(tmp_path: Path) -> None:
    folder = tmp_path / "scripts"
    folder.mkdir()
    (folder / "one.js").write_text('import { a } from "./two.js";\n', "utf-8")
    (folder / "two.js").write_text("export const a = 1;\n", "utf-8")
    before = scripts(tmp_path)["one"].name
    (folder / "two.js").write_text("export const a = 2;\n", "utf-8")
    assert scripts(tmp_path)["one"].name != before


def test_a_script_of_a_folder_is_found_from_beside_and_from_above(tmp_path: Path) -> None:
    folder = tmp_path / "scripts" / "fit"
    folder.mkdir(parents=True)
    (folder / "one.js").write_text('import { a } from "./two.js";\n', "utf-8")
    (folder / "two.js").write_text('import { b } from "../top.js";\n', "utf-8")
    (folder.parent / "top.js").write_text('import { c } from "./fit/end.js";\n', "utf-8")
    (folder / "end.js").write_text("export const c = 1;\n", "utf-8")
    made = scripts(tmp_path)
    assert f'"./{made["fit/two"].name}"' in made["fit/one"].body.decode()
    assert f'"./{made["top"].name}"' in made["fit/two"].body.decode()
    assert f'"./{made["fit/end"].name}"' in made["top"].body.decode()
    assert all("/" not in asset.name for asset in made.values())


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: path.stem)
def test_no_script_makes_markup_of_text(path: Path) -> None:
    text = path.read_text("utf-8")
    assert not re.search(r"innerHTML|outerHTML|insertAdjacentHTML|document\.write|eval\(", text)
