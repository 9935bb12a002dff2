"""The verb `build`: its options, where its cache lies, and what it says."""

import argparse
import os
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from generator.content_folder import OR_ELSE, content_here
from generator.reading.trouble import GuideError, shown

if TYPE_CHECKING:
    from datetime import date

    from generator.cache.store import Store

Handler = Callable[[argparse.Namespace], int]
MakeVerb = Callable[[str, str, str, Handler], argparse.ArgumentParser]

_FAULTS_FOUND = 1


def add_verb(verb: MakeVerb, today: Callable[[], "date"]) -> None:
    """Add `build` to the verbs."""
    does = "read, check, compute and write the guide"
    example = "gapbook build content_demo --out site_output"
    parser = verb("build", does, example, partial(_build, today))
    parser.add_argument(
        "content", nargs="?", type=Path, default=content_here(), metavar="CONTENT",
        help=f"folder with club.yaml, chassis, setups and articles {OR_ELSE}",
    )  # fmt: skip
    parser.add_argument(
        "--out", type=Path, default=Path("site_output"), metavar="DIR",
        help="folder of the site (default: site_output); only an empty one or one of the guide's "
        "own is replaced",
    )  # fmt: skip
    parser.add_argument(
        "--leave-out-faulty", action="store_true",
        help="build without the setups that have errors; they are listed on the faults page and "
        "the exit status stays 1",
    )  # fmt: skip
    parser.add_argument(
        "--cache", type=Path, metavar="DIR",
        help="folder for what need not be made again (default: gapbook in the user's cache "
        "folder); the site is the same with and without",
    )  # fmt: skip
    parser.add_argument("--no-cache", action="store_true", help="make everything anew")
    parser.add_argument(
        "--workers", type=int, metavar="NUMBER", help="processes (default: one for each processor)"
    )


def _build(today: Callable[[], "date"], options: argparse.Namespace) -> int:
    from generator.build import build

    cache, notes = (None, ()) if options.no_cache else _cache(options.cache, options.content)
    built = build(
        options.content,
        options.out,
        leave_out_faulty=options.leave_out_faulty,
        today=today(),
        cache=cache,
        workers=options.workers,
    )
    for note in (*notes, *built.notes):
        print(f"gapbook: {shown(note)}", file=sys.stderr)
    if built.faults:
        from generator.reading.report import as_text

        print(as_text(built.faults), end="\n\n", file=sys.stderr)
    print(built.told, file=sys.stderr if built.has_errors else sys.stdout)
    return _FAULTS_FOUND if built.has_errors else 0


def _cache(folder: Path | None, content: Path) -> tuple["Store | None", tuple[str, ...]]:
    """Open the cache; None, and a note, where it cannot be used."""
    from generator.cache.key import default_folder, key_for
    from generator.cache.store import Store

    place = folder or default_folder(os.environ)
    if place is None:
        return None, ()
    if place.resolve().is_relative_to(content.resolve()):
        raise GuideError(f"the cache cannot lie in the content folder: {place}")
    store = Store.opened(place, key_for(os.environ))
    return store, () if store else (f"the cache in {place} cannot be used; all was made anew",)
