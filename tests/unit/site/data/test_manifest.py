"""The manifest: digests by hashlib and sha256sum's published value, and strict reading."""

import hashlib
import json
from pathlib import Path

import pytest

from generator.reading.folder import Found
from generator.reading.trouble import GuideError
from generator.site.data.manifest import manifest_file, read_manifest, told_of
from generator.site.guide import Guide
from generator.site.page import DataFile

# FIPS 180-4 example: SHA-256 of "abc"
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def written(guide: Guide) -> str:
    return manifest_file(guide, [told_of(DataFile("data/v1/a.csv", "abc"))]).text


def test_data_files_have_their_digest(guide: Guide) -> None:
    (file,) = read_manifest(written(guide), "it").files
    assert (file.path, file.size, file.sha256) == ("a.csv", 3, ABC)


def test_inputs_are_all_files_of_the_content(
    guide: Guide, files_of_guide: tuple[Found, ...]
) -> None:
    told = {
        each.path: (each.size, each.sha256) for each in read_manifest(written(guide), "it").inputs
    }
    assert told == {
        each.path: (len(each.content), hashlib.sha256(each.content).hexdigest())
        for each in files_of_guide
    }


def test_it_holds_no_clock_and_no_path_of_the_machine(guide: Guide) -> None:
    assert written(guide) == written(guide)
    assert str(Path.cwd()) not in written(guide)
    assert set(json.loads(written(guide))) == {
        "version", "made_by", "guide", "address", "invented", "history", "inputs", "files",
    }  # fmt: skip


@pytest.mark.parametrize(
    "changed",
    [
        {"version": 2}, {"history": None}, {"files": [{"path": "a.csv"}]}, {"inputs": 7},
        {"files": [{"path": "../a", "bytes": 1, "sha256": ABC}]},
        {"files": [{"path": "/etc/a", "bytes": 1, "sha256": ABC}]},
        {"files": [{"path": "a\\b", "bytes": 1, "sha256": ABC}]},
        {"files": [{"path": "a..b", "bytes": 1, "sha256": ABC}]},
        {"files": [{"path": "a", "bytes": "1", "sha256": ABC}]},
        {"files": [{"path": "a", "bytes": 1, "sha256": ABC.upper()}]},
        {"files": [{"path": "a", "bytes": 1, "sha256": ABC + "\n"}]},
    ],
)  # fmt: skip
def test_a_manifest_that_is_not_ours_is_refused(guide: Guide, changed: dict[str, object]) -> None:
    with pytest.raises(GuideError):
        read_manifest(json.dumps(json.loads(written(guide)) | changed), "it")


@pytest.mark.parametrize("text", ["", "[]", "null", "{}", "[" * 100_000, "NaN"])
def test_other_text_is_refused(text: str) -> None:
    with pytest.raises(GuideError):
        read_manifest(text, "it")
