"""The files for the forges: linted, current, and their steps run for real against repositories.

A repository on the disk plays the forge: it has the published branch and, under the names a forge
gives them, the requests. The steps are taken from the workflow files as they stand; only the one
that installs from the network is replaced by the program under test.
"""

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
import yaml

from generator.records.examples import sample
from generator.review.forge_forms import forge_files

ROOT = Path(__file__).resolve().parents[2]
WORKFLOWS = sorted((ROOT / ".github/workflows").glob("*.yml"))
FORGEJO = sorted((ROOT / ".forgejo/workflows").glob("*.yml"))
GITLAB = ROOT / ".gitlab-ci.yml"
RECORD = "content_demo/setups/ostvane-meridel/copperbill-seven-inch.yaml"


def tool(name: str) -> str:
    """Give a linter of the test environment; without it the test fails, and is not skipped."""
    found = Path(sys.executable).with_name(name)
    assert found.exists(), f"{name} is not installed; it is in the extra `test`"
    return str(found)


def test_zizmor_finds_nothing() -> None:
    """zizmor is a linter for the security of workflows, not of this project."""
    command = [tool("zizmor"), "--offline", "--no-progress", "--persona=pedantic",
               "--config", str(ROOT / ".github/zizmor.yml"), str(ROOT / ".github")]  # fmt: skip
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_zizmor_would_find_a_planted_fault(tmp_path: Path) -> None:
    folder = tmp_path / ".github/workflows"
    folder.mkdir(parents=True)
    text = WORKFLOWS[0].read_text("utf-8")
    planted = text.replace("git init -q guide", 'echo "${{ github.event.pull_request.title }}"')
    assert planted != text
    (folder / "check.yml").write_text(planted, "utf-8")
    command = [tool("zizmor"), "--offline", "--no-progress", str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    assert "template-injection" in done.stdout
    assert done.returncode != 0


@pytest.mark.parametrize(
    ("schema", "files"),
    [
        ("vendor.github-workflows", [*WORKFLOWS, *FORGEJO]),
        ("vendor.gitlab-ci", [GITLAB]),
        ("vendor.github-issue-forms",
         [ROOT / ".github/ISSUE_TEMPLATE" / name for name in ("record.yml", "dispute.yml")]),
        ("vendor.github-issue-config", [ROOT / ".github/ISSUE_TEMPLATE/config.yml"]),
    ],
)  # fmt: skip
def test_files_follow_the_schemas_of_their_forge(schema: str, files: list[Path]) -> None:
    """The schemas are those that check-jsonschema brings; nothing is fetched."""
    assert files
    command = [tool("check-jsonschema"), "--builtin-schema", schema, *map(str, files)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize("path", sorted(forge_files()))
def test_made_files_are_current(path: str) -> None:
    assert (ROOT / path).read_text("utf-8") == forge_files()[path], "run `gapbook forms`"


def loaded(path: Path) -> dict[Any, Any]:
    found = yaml.safe_load(path.read_text("utf-8"))
    assert isinstance(found, dict)
    return found


def triggers(workflow: dict[Any, Any]) -> dict[str, Any]:
    # YAML 1.1 reads the word `on` as true.
    found = workflow[True]
    assert isinstance(found, dict)
    return found


@pytest.mark.parametrize("path", [*WORKFLOWS, *FORGEJO], ids=lambda path: str(path)[-28:])
def test_no_trigger_lends_a_request_the_rights_of_the_club(path: Path) -> None:
    assert set(triggers(loaded(path))) <= {"pull_request", "push"}


@pytest.mark.parametrize("path", [*WORKFLOWS, *FORGEJO], ids=lambda path: str(path)[-28:])
def test_requests_see_no_secret_and_no_cache(path: Path) -> None:
    text = path.read_text("utf-8")
    assert "secrets." not in text
    assert "actions/cache" not in text
    if "pull_request" in triggers(loaded(path)):
        assert "token" not in re.sub(r"#.*", "", text)
        assert "uses:" not in text


@pytest.mark.parametrize("path", [*WORKFLOWS, *FORGEJO], ids=lambda path: str(path)[-28:])
def test_nothing_is_pasted_into_a_script(path: Path) -> None:
    for job in loaded(path)["jobs"].values():
        assert job["timeout-minutes"] <= 60
        for step in job["steps"]:
            assert "${{" not in step.get("run", "")


def test_rights_are_the_least() -> None:
    for path in WORKFLOWS:
        workflow = loaded(path)
        assert workflow["permissions"] == {}
        for name, job in workflow["jobs"].items():
            if name == "deploy":
                assert job["permissions"] == {"pages": "write", "id-token": "write"}
                assert not any("run" in step for step in job["steps"])
            else:
                assert job["permissions"] == {"contents": "read"}


def test_forms_keep_words_as_text_for_every_reader() -> None:
    """PyYAML reads YAML 1.1, as forges do: a bare `yes` or date would not be text there."""
    for path in ("record.yml", "dispute.yml"):
        for element in loaded(ROOT / ".github/ISSUE_TEMPLATE" / path)["body"]:
            for value in element["attributes"].values():
                values = value if isinstance(value, list) else [value]
                assert all(isinstance(each, str) for each in values), element


@dataclass
class Forge:
    """A repository that has what a forge has, and a folder in which jobs run."""

    repository: Path
    scratch: Path

    def git(self, *words: str, folder: Path | None = None) -> str:
        environment = {
            "PATH": os.environ["PATH"], "HOME": str(self.scratch), "GIT_CONFIG_NOSYSTEM": "1",
            "GIT_AUTHOR_NAME": "Fernhollow", "GIT_AUTHOR_EMAIL": "fernhollow@example.org",
            "GIT_COMMITTER_NAME": "Fernhollow", "GIT_COMMITTER_EMAIL": "fernhollow@example.org",
        }  # fmt: skip
        done = subprocess.run(
            ["git", *words], cwd=folder or self.repository, env=environment, capture_output=True,
            text=True, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr
        return done.stdout.strip()

    def request(self, number: int, branch: str, change: Callable[[Path], None]) -> None:
        """Make a fork, change it on a branch, and open a request as the forge does."""
        fork = self.scratch / f"fork-{number}"
        self.git("clone", "-q", str(self.repository), str(fork), folder=self.scratch)
        self.git("checkout", "-q", "-b", branch, folder=fork)
        change(fork)
        self.git("add", "-A", folder=fork)
        self.git("commit", "-q", "-m", "$(touch pwned) ::error::x", folder=fork)
        for name in (f"refs/pull/{number}/head", f"refs/merge-requests/{number}/head"):
            self.git("push", "-q", str(self.repository), f"HEAD:{name}", folder=fork)

    def run(self, steps: list[str], **given: str) -> tuple[int, str, str]:
        """Run the steps of a job in a fresh folder; give status, log and summary."""
        work = self.scratch / "work"
        shutil.rmtree(work, ignore_errors=True)
        work.mkdir()
        tools = self.scratch / "temp/tools/bin"
        tools.mkdir(parents=True, exist_ok=True)
        program = tools / "gapbook"
        program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m generator "$@"\n')
        program.chmod(0o755)
        summary = work / "summary.md"
        environment = {
            "PATH": os.environ["PATH"], "HOME": str(self.scratch), "PYTHONPATH": str(ROOT),
            "RUNNER_TEMP": str(self.scratch / "temp"), "TOOLS": str(tools.parent),
            "GITHUB_STEP_SUMMARY": str(summary), "CONTENT": "content_demo",
            "REPOSITORY": f"file://{self.repository}", **given,
        }  # fmt: skip
        log, status = "", 0
        for script in steps:
            done = subprocess.run(
                ["bash", "-e", "-c", script], cwd=work, env=environment, capture_output=True,
                text=True, timeout=300, check=False,
            )  # fmt: skip
            log, status = log + done.stdout + done.stderr, done.returncode
            if status != 0:
                break
        told = summary.read_text("utf-8") if summary.exists() else ""
        return status, log, told


def steps_of(path: Path, job: str) -> list[str]:
    steps = loaded(path)["jobs"][job]["steps"]
    kept = [step for step in steps if "run" in step and not step["name"].startswith("Install")]
    assert len(kept) < len(steps)
    return [step["run"] for step in kept]


@pytest.fixture
def forge(tmp_path: Path) -> Forge:
    repository, scratch = tmp_path / "club", tmp_path / "scratch"
    repository.mkdir()
    scratch.mkdir()
    made = Forge(repository, scratch)
    made.git("init", "-q", "-b", "main")
    for path, text in (
        ("content_demo/club.yaml", sample("club")),
        ("content_demo/chassis/ostvane-meridel.yaml", sample("chassis")),
        (RECORD, sample("setup")),
        ("generator/rules.py", "STRICT = True\n"),
        (".github/workflows/check.yml", WORKFLOWS[0].read_text("utf-8")),
    ):
        (repository / path).parent.mkdir(parents=True, exist_ok=True)
        (repository / path).write_text(text, "utf-8")
    made.git("add", "-A")
    made.git("commit", "-q", "-m", "Begin")
    made.git("config", "receive.denyCurrentBranch", "ignore")
    return made


def edit(path: str, old: str, new: str) -> Callable[[Path], None]:
    def change(fork: Path) -> None:
        text = (fork / path).read_text("utf-8")
        assert old in text
        (fork / path).write_text(text.replace(old, new), "utf-8")

    return change


CHECKS = [WORKFLOWS[0], FORGEJO[0]]


@pytest.mark.parametrize("path", CHECKS, ids=["github", "forgejo"])
def test_a_sound_request_is_reported(forge: Forge, path: Path) -> None:
    forge.request(7, "more-room", edit(RECORD, "full bump, gap: 9 mm", "full bump, gap: 14 mm"))
    status, log, told = forge.run(steps_of(path, "records"), NUMBER="7")
    assert status == 0, log
    assert "## Limits that move" in (told or log)


def test_a_faulty_request_fails_with_its_line(forge: Forge) -> None:
    forge.request(8, "slip", edit(RECORD, "offset: 22 mm", "offset: 22"))
    status, log, told = forge.run(steps_of(CHECKS[0], "records"), NUMBER="8")
    assert status == 1
    line = sample("setup").split("\n").index("    offset: 22 mm") + 1
    assert f"::error file={RECORD},line={line}," in log
    assert "cannot be published yet" in told


def test_the_published_program_judges_whatever_a_request_brings(forge: Forge) -> None:
    def change(fork: Path) -> None:
        (fork / "generator/rules.py").write_text("STRICT = False\n")
        (fork / ".github/workflows/check.yml").write_text("on: pull_request_target\n")
        (fork / "pyproject.toml").write_text("[project]\nname = 'other'\n")
        (fork / ".gitattributes").write_text("* filter=x diff=x merge=x\n")
        (fork / ".gitmodules").write_text('[submodule "x"]\n\tpath = x\n\turl = ./x\n')

    forge.request(9, "new-rules", change)
    status, log, told = forge.run(steps_of(CHECKS[0], "records"), NUMBER="9")
    assert status == 0, log
    checkout = forge.scratch / "work/guide"
    assert (checkout / "generator/rules.py").read_text() == "STRICT = True\n"
    assert not (checkout / "pyproject.toml").exists()
    assert "## 5 files outside the content folder" in told
    assert "**No published number changes.**" in told


HOSTILE = ("-rf", "$(touch pwned)", "`touch pwned`", "a\nb", "a;touch pwned", "::error::x", "x|y")


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_are_faults_and_nothing_else(forge: Forge, name: str) -> None:
    folder = "content_demo/setups/ostvane-meridel"

    def change(fork: Path) -> None:
        (fork / folder / f"{name}.yaml").write_text(sample("setup"), "utf-8")

    forge.request(10, "odd-`touch-pwned`", change)
    status, log, told = forge.run(steps_of(CHECKS[0], "records"), NUMBER="10")
    assert status == 1, log
    assert not list(forge.scratch.rglob("pwned"))
    commands = [line for line in log.split("\n") if line.lstrip().startswith("::")]
    assert len(commands) == 1
    assert commands[0].startswith(f"::error file={folder}/")
    assert "is not a name for a file of the guide" in told


def test_a_link_out_of_the_tree_is_not_followed(forge: Forge) -> None:
    def change(fork: Path) -> None:
        (fork / RECORD).unlink()
        (fork / RECORD).symlink_to("/etc/passwd")

    forge.request(11, "link", change)
    status, log, told = forge.run(steps_of(CHECKS[0], "records"), NUMBER="11")
    assert status == 1
    assert "this is a link" in told
    assert "root:" not in told + log


def test_a_deleted_record_is_told(forge: Forge) -> None:
    forge.request(12, "away", lambda fork: (fork / RECORD).unlink())
    status, log, told = forge.run(steps_of(CHECKS[0], "records"), NUMBER="12")
    assert status == 1
    assert "is deleted" in told, log
    assert "would end" in told


def test_a_stale_request_shows_its_own_change_alone(forge: Forge) -> None:
    forge.request(13, "stale", edit(RECORD, "Invented, for the examples.", "A word."))
    edit("content_demo/club.yaml", "name: ", "name: New ")(forge.repository)
    forge.git("commit", "-q", "-am", "Meanwhile")
    status, log, told = forge.run(steps_of(CHECKS[0], "records"), NUMBER="13")
    assert status == 0, log
    assert "Files: 1 changed." in told


def test_a_conflict_stops_in_one_line(forge: Forge) -> None:
    forge.request(14, "clash", edit(RECORD, "offset: 22 mm", "offset: 24 mm"))
    edit(RECORD, "offset: 22 mm", "offset: 26 mm")(forge.repository)
    forge.git("commit", "-q", "-am", "Meanwhile")
    status, log, _ = forge.run(steps_of(CHECKS[0], "records"), NUMBER="14")
    assert status == 2
    assert log.strip().startswith("gapbook: the change cannot be merged by itself")


@pytest.mark.parametrize("path", [ROOT / ".github/workflows/publish.yml", FORGEJO[1]])
def test_a_merge_is_built_with_its_history(forge: Forge, path: Path) -> None:
    forge.request(15, "sound", edit(RECORD, "Invented, for the examples.", "A word."))
    forge.git("merge", "-q", "--no-ff", "-m", "Merge", "refs/pull/15/head")
    commit = forge.git("rev-parse", "HEAD")
    site = forge.scratch / "temp/site"
    steps = [step.replace("/tmp/site", str(site)) for step in steps_of(path, "build")]
    status, log, _ = forge.run(steps, GITHUB_SHA=commit)
    assert status == 0, log
    page = (site / "setups/ostvane-meridel/copperbill-seven-inch.html").read_text("utf-8")
    assert "A word." in page
    assert not [path for path in site.rglob("*") if path.is_symlink()]


def test_gitlab_takes_the_same_route(forge: Forge) -> None:
    forge.request(16, "more-room", edit(RECORD, "full bump, gap: 9 mm", "full bump, gap: 14 mm"))
    script = [line for line in loaded(GITLAB)["check"]["script"] if "$TOOLS/bin/python" not in line]
    joined = "\n".join(line for line in script if "-m venv" not in line)
    assert '"$CI_MERGE_REQUEST_PROJECT_URL.git"' in joined
    joined = joined.replace("$CI_MERGE_REQUEST_PROJECT_URL.git", "$CI_MERGE_REQUEST_PROJECT_URL")
    status, log, _ = forge.run(
        [joined], CI_MERGE_REQUEST_PROJECT_URL=f"file://{forge.repository}",
        CI_MERGE_REQUEST_IID="16",
    )  # fmt: skip
    assert status == 0, log
    assert "## Limits that move" in (forge.scratch / "work/report.md").read_text("utf-8")
