"""The verbs of a maintainer as commands: forms, photo, from-issue, why, verify, serve, review."""

import io
import json
import socket
import subprocess
from pathlib import Path

import pytest
from PIL import Image

from generator.cli import CANNOT_RUN, FAULTS_FOUND, main
from generator.records.examples import sample
from generator.review.forge_forms import forge_files

Told = pytest.CaptureFixture[str]


@pytest.fixture
def content(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    for name, kind in (("club.yaml", "club"), ("chassis/ostvane-meridel.yaml", "chassis")):
        path = tmp_path / "content" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(sample(kind), "utf-8")
    monkeypatch.chdir(tmp_path)
    return Path("content")


def one_line(told: str) -> bool:
    return told.startswith("gapbook: ") and told.count("\n") == 1


def test_forms_writes_every_file_of_the_forge(content: Path, capsys: Told) -> None:
    assert main(["forms", "--out", "top"]) == 0
    assert capsys.readouterr().out.startswith(f"{len(forge_files())} files written")
    for path, text in forge_files().items():
        assert (Path("top") / path).read_text("utf-8") == text


def picture(width: int = 2000) -> bytes:
    body = io.BytesIO()
    exif = Image.Exif()
    exif[0x8825] = {1: "N", 2: (61.0, 30.0, 0.0)}
    Image.new("RGB", (width, 1000), (90, 90, 90)).save(body, "JPEG", exif=exif, comment=b"garage")
    return body.getvalue()


def test_photo_writes_the_picture_alone(content: Path, capsys: Told) -> None:
    Path("IMG_1.jpg").write_bytes(picture())
    assert main(["photo", "IMG_1.jpg", "--out", "gauge.jpg"]) == 0
    assert "the picture alone" in capsys.readouterr().out
    body = Path("gauge.jpg").read_bytes()
    made = Image.open(io.BytesIO(body))
    assert made.size == (1600, 800)
    assert not made.getexif()
    assert b"garage" not in body


@pytest.mark.parametrize(
    ("given", "out"),
    [(b"<svg/>", "new.jpg"), (picture(), "there.jpg"), (picture(), "new.png"), (b"", "new.jpg")],
)
def test_photo_replaces_nothing_and_tells_in_one_line(
    content: Path, capsys: Told, given: bytes, out: str
) -> None:
    Path("in.jpg").write_bytes(given)
    Path("there.jpg").write_bytes(b"somebody's")
    assert main(["photo", "in.jpg", "--out", out]) == CANNOT_RUN
    assert one_line(capsys.readouterr().err)
    assert Path("there.jpg").read_bytes() == b"somebody's"
    assert not Path("new.jpg").exists()
    assert not Path("new.png").exists()


ISSUE = "### title\n\nSeven inches\n\n### chassis\n\nostvane-meridel\n\n### car\n\ncopper-car\n\n"
ISSUE += "### member\n\nCopperbill\n\n### date\n\n2025-06-14\n"


def test_from_issue_makes_a_record_once_and_answers_each_issue(content: Path, capsys: Told) -> None:
    Path("good.md").write_text(ISSUE, "utf-8")
    Path("bad.md").write_text("### nothing of ours\n\n$(touch x)\n", "utf-8")
    assert main(["from-issue", "good.md", "--into", "content"]) == 0
    (record,) = content.glob("setups/*/*.yaml")
    before = record.read_bytes()
    assert main(["from-issue", "bad.md", "good.md", "--into", "content"]) == FAULTS_FOUND
    told = capsys.readouterr().out
    assert "there is a record" in told
    assert "## bad.md" in told
    assert record.read_bytes() == before
    assert not Path("x").exists()


def test_from_issue_without_its_file_is_told_in_one_line(content: Path, capsys: Told) -> None:
    assert main(["from-issue", "gone.md"]) == CANNOT_RUN
    assert one_line(capsys.readouterr().err)


@pytest.mark.parametrize("code", ["P04", "Y17", "L28", "r51"])
def test_why_explains_photos_and_pages_that_end(capsys: Told, code: str) -> None:
    assert main(["why", code]) == 0
    told = capsys.readouterr().out
    assert told.startswith(f"{code.upper()}: ")
    assert "To mend it:" in told


def test_verify_without_a_manifest_is_told_in_one_line(content: Path, capsys: Told) -> None:
    assert main(["verify", "manifest.json", "content"]) == CANNOT_RUN
    assert one_line(capsys.readouterr().err)
    Path("manifest.json").write_text("{}", "utf-8")
    assert main(["verify", "manifest.json", "content"]) == CANNOT_RUN
    assert one_line(capsys.readouterr().err)


def test_serve_on_a_taken_port_is_told_in_one_line(content: Path, capsys: Told) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = str(taken.getsockname()[1])
        assert main(["serve", "content", "--port", port]) == CANNOT_RUN
    assert one_line(capsys.readouterr().err)


def test_review_outside_of_git_is_told_in_one_line(
    content: Path, capsys: Told, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(content.resolve().parent.parent))
    assert subprocess.run(["git", "rev-parse"], capture_output=True, check=False).returncode
    assert main(["review", "main", "content"]) == CANNOT_RUN
    assert one_line(capsys.readouterr().err)


@pytest.mark.parametrize("verb", ["assess", "try"])
def test_a_schema_is_written_without_a_record_and_nothing_else(capsys: Told, verb: str) -> None:
    assert main([verb, "--schema"]) == 0
    assert json.loads(capsys.readouterr().out)["title"] == f"gapbook {verb}"
    assert main([verb]) == CANNOT_RUN
    assert one_line(capsys.readouterr().err)
