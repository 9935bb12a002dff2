"""What the guide takes, as its commands and from inside, on a federation of some size."""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from compileall import compile_dir
from dataclasses import dataclass
from pathlib import Path

from tests.bench.timing import Measured, Run, run
from tests.federation.federation import write

ROOT = Path(__file__).parents[2]
SEED = 8
LONG = 60.0
"""A run that takes longer is not done again, seconds."""


@dataclass(frozen=True)
class Bench:
    """A content, and a copy of the program of which a template can change."""

    folder: Path
    records: int
    times: int

    @classmethod
    def make(cls, folder: Path, records: int, times: int) -> "Bench":
        """Copy the program and write the federation."""
        program = folder / "program"
        for name in ("generator", "templates"):
            away = shutil.ignore_patterns("__pycache__")
            shutil.copytree(ROOT / name, program / name, ignore=away)
        # An installed program comes with its byte code.
        compile_dir(program / "generator", quiet=2)
        write(folder / "content", seed=SEED, records=records)
        return cls(folder, records, times)

    @property
    def environment(self) -> dict[str, str]:
        """Give an environment whose caches are of this folder alone."""
        own = {
            name: str(self.folder / name.lower()) for name in ("XDG_CACHE_HOME", "XDG_CONFIG_HOME")
        }
        return {
            **os.environ,
            **own,
            "PYTHONHASHSEED": "0",
            "PYTHONPATH": str(self.folder / "program"),
        }

    def command(self, *arguments: str) -> Run:
        """Run the program once."""
        return run(
            [sys.executable, "-m", "generator", *arguments],
            cwd=self.folder / "program",
            environment=self.environment,
        )

    def build(self) -> Run:
        """Build the guide once, into the folder where an earlier one may be."""
        return self.command(
            "build", str(self.folder / "content"), "--out", str(self.folder / "site")
        )

    def forget(self) -> None:
        """Throw away all that earlier builds left."""
        for name in ("site", "xdg_cache_home", "xdg_config_home"):
            shutil.rmtree(self.folder / name, ignore_errors=True)

    def repeated(
        self, act: Callable[[], Run], before: Callable[[], object] | None = None
    ) -> Measured:
        """Do something some times, fewer if it takes long."""
        runs: list[Run] = []
        for _ in range(self.times):
            if before:
                before()
            runs.append(act())
            if runs[-1].wall > LONG:
                break
        return Measured.of(runs)

    def one_record(self) -> Path:
        """Give the record that is changed and checked."""
        return sorted((self.folder / "content" / "setups").glob("*/*.yaml"))[0]

    def change_record(self) -> None:
        """Let one gap of one record be another: as a merge would."""
        path = self.one_record()
        text = path.read_text("utf-8")
        line = next(each for each in text.split("\n") if each.startswith("odometer: "))
        number, unit = line.split(" ")[1:]
        path.write_text(text.replace(line, f"odometer: {int(number) + 1} {unit}"), "utf-8")

    def change_template(self) -> None:
        """Let one sentence of the page of a setup be another."""
        path = self.folder / "program" / "templates" / "pages" / "setup.html"
        path.write_text(path.read_text("utf-8") + "<!-- -->\n", "utf-8")

    def size(self) -> tuple[int, int]:
        """Give files and bytes of the site."""
        files = [path for path in (self.folder / "site").rglob("*") if path.is_file()]
        return len(files), sum(path.stat().st_size for path in files)


def by_commands(bench: Bench, *, build_only: bool) -> dict[str, object]:
    """Measure what a person waits for."""
    found: dict[str, object] = {}
    cold = bench.repeated(bench.build, bench.forget)
    found["cold build"] = cold.plain()
    files, size = bench.size()
    found["output"] = {"files": files, "bytes": size}
    if build_only:
        return found
    found["nothing changed"] = bench.repeated(bench.build).plain()
    found["one record changed"] = bench.repeated(bench.build, bench.change_record).plain()
    found["one template changed"] = bench.repeated(bench.build, bench.change_template).plain()
    content = str(bench.folder / "content")
    found["check of all"] = bench.repeated(lambda: bench.command("check", content)).plain()
    one = str(bench.one_record())
    found["check of one record"] = bench.repeated(lambda: bench.command("check", one)).plain()
    found["--help"] = bench.repeated(lambda: bench.command("--help")).plain()
    return found


def from_inside(bench: Bench) -> dict[str, float]:
    """Measure the rates of single steps in one process without any cache."""
    told = subprocess.run(
        [sys.executable, str(Path(__file__).with_name("inside.py")), str(bench.folder / "content")],
        cwd=bench.folder / "program", env=bench.environment, check=True, capture_output=True,
        text=True,
    )  # fmt: skip
    found: dict[str, float] = json.loads(told.stdout)
    return found
