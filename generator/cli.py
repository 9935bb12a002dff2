"""The command `gapbook`: one plain verb for each thing a member or maintainer does.

Only argparse is imported to start with; each verb brings what it needs.
"""

import argparse
import contextlib
import gc
import os
import sys
from collections.abc import Callable, Sequence
from functools import partial
from io import TextIOWrapper
from pathlib import Path
from typing import TYPE_CHECKING

from generator import RELEASED, __version__, build_verb, forge_verbs
from generator.content_folder import OR_ELSE, content_here
from generator.reading.trouble import GuideError, shown

if TYPE_CHECKING:
    from datetime import date

    from generator.cache.store import Store
    from generator.records.inspection import Inspected

FAULTS_FOUND = 1
CANNOT_RUN = 2

Handler = Callable[[argparse.Namespace], int]
_COLLECT_AFTER = 100_000
"""New objects before those in circles are looked for. Values that flow one way make none, and
looking after every 700, as Python does by itself, takes a fifteenth of a build."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and give its exit status: 0, 1 for faults in content, 2 if it cannot run."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            # A terminal without a letter shows its code point; the command goes on.
            stream.reconfigure(errors="backslashreplace")
    gc.set_threshold(_COLLECT_AFTER)
    given = sys.argv[1:] if arguments is None else arguments
    options = _parser(next(iter(given), "")).parse_args(given)
    handler: Handler = options.handler
    try:
        status = handler(options)
        sys.stdout.flush()
    except BrokenPipeError:
        return _cannot_write("")
    except OSError as error:
        return _cannot_write(f"{error.strerror}: {error.filename or 'the output'}")
    except GuideError as trouble:
        print(f"gapbook: {shown(str(trouble))}", file=sys.stderr)
        return CANNOT_RUN
    except KeyboardInterrupt:
        print("gapbook: stopped", file=sys.stderr)
        return CANNOT_RUN
    return status


def _cannot_write(told: str) -> int:
    """End quietly where nobody reads on, in one line where the disk or the system says no."""
    if told:
        print(f"gapbook: {shown(told)}", file=sys.stderr)
    # What is not written yet would be tried once more at the very end, and fail with a traceback.
    with contextlib.suppress(OSError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return CANNOT_RUN


def _parser(wanted: str) -> argparse.ArgumentParser:
    """Make the parser; only the verb that is wanted brings options that take long to describe."""
    parser = argparse.ArgumentParser(
        prog="gapbook",
        description="Make a car club's wheel and tyre fitment guide from its members' records.",
        epilog="Each command has a --help of its own, with an example.",
    )
    parser.add_argument("--version", action="version", version=f"gapbook {__version__}")
    verbs = parser.add_subparsers(title="commands", metavar="COMMAND", required=True)
    build_verb.add_verb(partial(_verb, verbs), today)
    _add_check(verbs)
    _add_assess(verbs)
    _add_review(verbs)
    _add_serve(verbs)
    _add_try(verbs, whole=wanted == "try")
    _add_new(verbs)
    _add_why(verbs)
    _add_verify(verbs)
    forge_verbs.add_verbs(partial(_verb, verbs))
    return parser


def _verb(
    verbs: "argparse._SubParsersAction[argparse.ArgumentParser]",
    name: str,
    does: str,
    example: str,
    run: Handler,
) -> argparse.ArgumentParser:
    parser = verbs.add_parser(
        name, help=does, description=f"{does[:1].upper()}{does[1:]}.", epilog=f"example: {example}"
    )
    parser.set_defaults(handler=run)
    return parser


def _add_check(verbs: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    does = "show all faults of all files at once"
    example = "gapbook check content_demo/setups/ostvane-meridel/first-try.yaml"
    verb = _verb(verbs, "check", does, example, _check)
    verb.add_argument(
        "paths", nargs="*", type=Path, default=[content_here()], metavar="PATH",
        help=f"content folders or single files {OR_ELSE}",
    )  # fmt: skip
    verb.add_argument(
        "--format", choices=("text", "json", "github", "sarif"), default="text",
        help="text for people, json and sarif for programs, github for annotations",
    )  # fmt: skip


def _add_assess(verbs: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    does = "compute every number of one record"
    example = "gapbook assess content_demo/setups/ostvane-meridel/first-try.yaml --json"
    verb = _verb(verbs, "assess", does, example, _assess)
    verb.add_argument("record", type=Path, nargs="?", metavar="RECORD", help="file of one setup")
    verb.add_argument("--json", action="store_true", help="write JSON instead of a table")
    verb.add_argument("--schema", action="store_true", help="write the schema of the JSON and stop")


def _add_review(verbs: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    does = "show what a change of the records changes in the guide"
    verb = _verb(verbs, "review", does, "gapbook review main content_demo", _review)
    verb.add_argument("base", metavar="BASE", help="git revision to compare with, such as main")
    verb.add_argument(
        "content", nargs="?", type=Path, default=content_here(), metavar="CONTENT",
        help=f"content folder {OR_ELSE}",
    )  # fmt: skip
    verb.add_argument(
        "--head", metavar="REVISION",
        help="review this revision, merged into BASE, instead of the working tree; it is read "
        "from git and never checked out",
    )  # fmt: skip
    verb.add_argument(
        "--format", choices=("markdown", "json", "github"), default="markdown",
        help="markdown for people, json for programs, github for annotations",
    )  # fmt: skip
    verb.add_argument(
        "--summary", type=Path, metavar="FILE", help="add the Markdown report to this file too"
    )


def _add_serve(verbs: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    does = "show the guide on this machine and follow the records as they change"
    verb = _verb(verbs, "serve", does, "gapbook serve content_demo --port 8000", _serve)
    verb.add_argument(
        "content", nargs="?", type=Path, default=content_here(), metavar="CONTENT",
        help=f"content folder {OR_ELSE}",
    )  # fmt: skip
    verb.add_argument(
        "--port", type=int, default=8000, help="port on this machine (default: 8000; 0: any free)"
    )


def _add_try(verbs: "argparse._SubParsersAction[argparse.ArgumentParser]", *, whole: bool) -> None:
    does = "judge a setup that nobody has tried"
    example = (
        'gapbook try ostvane-meridel --both-wheel 7x15 --both-offset "22 mm" '
        '--both-tyre "195/60 R15 88V" --lower "25 mm"'
    )
    verb = _verb(verbs, "try", does, example, _try)
    verb.add_argument("chassis", nargs="?", metavar="CHASSIS", help="name of the chassis sheet")
    verb.add_argument(
        "--content", type=Path, default=content_here(), metavar="CONTENT",
        help=f"content folder {OR_ELSE}",
    )  # fmt: skip
    verb.add_argument(
        "--from", dest="start", default="stock", metavar="SETUP",
        help="setup to start from; `stock` (default), or `nothing`",
    )  # fmt: skip
    verb.add_argument("--lower", metavar="LENGTH", help='lower both ends, such as "25 mm"')
    verb.add_argument("--lips", metavar="WORD", help="lips at both ends, such as `rolled`")
    verb.add_argument("--lips-gained", metavar="LENGTH", help="how far the lips' edges moved")
    verb.add_argument("--json", action="store_true", help="write JSON instead of a table")
    verb.add_argument("--schema", action="store_true", help="write the schema of the JSON and stop")
    if whole:
        _add_ends(verb)


def _add_ends(verb: argparse.ArgumentParser) -> None:
    """Add the options of the front, the rear and both."""
    from generator.trying import ENDS, OPTIONS, help_of

    for end in ENDS:
        group = verb.add_argument_group(f"{end} (a value that begins with - is written with =)")
        for option in OPTIONS:
            group.add_argument(f"--{end}-{option.name}", metavar="VALUE", help=help_of(option))


def _add_new(verbs: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    does = "begin a record: a file with every field, its unit and its help"
    verb = _verb(verbs, "new", does, "gapbook new ostvane-meridel --name first-try", _new)
    verb.add_argument("chassis", metavar="CHASSIS", help="short name of the chassis sheet")
    verb.add_argument(
        "--name", default="new-setup", metavar="NAME",
        help="short name (default: new-setup); a file that is there is never replaced",
    )  # fmt: skip
    verb.add_argument(
        "--content", type=Path, default=content_here(), metavar="CONTENT",
        help=f"content folder {OR_ELSE}",
    )  # fmt: skip


def _add_why(verbs: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    does = "explain a fault code and how to mend it"
    verb = _verb(verbs, "why", does, "gapbook why R01", _why)
    verb.add_argument("code", nargs="?", help="the code in brackets; without one, all are listed")


def _add_verify(verbs: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    does = "make published data again from its records and name what differs"
    example = "gapbook verify site_output/data/v1/manifest.json content_demo"
    verb = _verb(verbs, "verify", does, example, _verify)
    verb.add_argument(
        "manifest", type=Path, metavar="MANIFEST",
        help="manifest.json of a published guide, with its data files beside it",
    )  # fmt: skip
    verb.add_argument(
        "content", nargs="?", type=Path, default=content_here(), metavar="CONTENT",
        help=f"folder of the records it was made from {OR_ELSE}",
    )  # fmt: skip


def _check(options: argparse.Namespace) -> int:
    from generator.reading import report
    from generator.reading.fault import has_error
    from generator.records.inspection import inspect

    inspected = inspect(options.paths, today=today(), whole=_whole)
    if options.format == "json":
        print(report.as_json(inspected.faults))
    elif options.format == "sarif":
        from generator.records.codes import explain

        print(
            report.as_sarif(inspected.faults, lambda code: (explain(code).title, explain(code).why))
        )
    elif options.format == "github":
        print(report.as_annotations(inspected.faults))
    else:
        if inspected.faults:
            print(report.as_text(inspected.faults), end="\n\n")
        print(report.summary(inspected.faults, inspected.files))
    return FAULTS_FOUND if has_error(inspected.faults) else 0


def _whole(folder: Path, *, today: "date") -> "Inspected":
    """Check a whole folder, sparing what the cache of builds has of it."""
    from generator.checked import inspected

    return inspected(folder, today=today, store=_borrowed())


def _assess(options: argparse.Namespace) -> int:
    from generator.assessment import report
    from generator.assessment.assess import assess
    from generator.assessment.effects import effects_of
    from generator.reading.fault import has_error
    from generator.reading.report import as_text
    from generator.records.inspection import case_of

    if options.schema:
        import json

        print(json.dumps(report.SCHEMA, indent=2))
        return 0
    if options.record is None:
        raise GuideError("assess needs the file of one setup")
    case, faults = case_of(options.record, today=today())
    if faults:
        print(as_text(faults), end="\n\n", file=sys.stderr)
    if case is None or has_error(faults):
        return FAULTS_FOUND
    assessment = assess(case)
    write = report.as_json if options.json else report.as_table
    print(write(assessment, effects_of(case, assessment)))
    return 0


def _review(options: argparse.Namespace) -> int:
    from generator.editions import review_of
    from generator.review.annotations import annotations
    from generator.review.as_json import as_json
    from generator.review.markdown import as_markdown

    review, prefix = review_of(
        options.content, options.base, options.head, today=today(), store=_borrowed()
    )
    if options.summary is not None:
        with options.summary.open("a", encoding="utf-8") as file:
            file.write(as_markdown(review))
    if options.format == "json":
        print(as_json(review))
    elif options.format == "github":
        print(annotations(review, prefix))
    else:
        print(as_markdown(review), end="")
    return FAULTS_FOUND if review.errors else 0


def _borrowed() -> "Store | None":
    """Give the cache of builds in the user's own folder, to be read from alone."""
    from generator.cache.key import default_folder, key_for
    from generator.cache.store import Borrowed

    return Borrowed.found(default_folder(os.environ), partial(key_for, os.environ))


def _serve(options: argparse.Namespace) -> int:
    from generator.serve import serve

    def tell(line: str) -> None:
        # In one piece, so that a stop in its middle does not leave half a line.
        print(f"{line}\n", end="", flush=True)

    serve(options.content, options.port, today=today, tell=tell, store=_borrowed())
    return 0


def _try(options: argparse.Namespace) -> int:
    from generator.evidence import report
    from generator.evidence.schema import SCHEMA
    from generator.reading.report import as_text
    from generator.trying import tried

    if options.schema:
        import json

        print(json.dumps(SCHEMA, indent=2))
        return 0
    if options.chassis is None:
        raise GuideError("try needs the short name of a chassis sheet")
    found = tried(options, today=today())
    if found.faults:
        print(as_text(found.faults), end="\n\n", file=sys.stderr)
    if found.trial is None:
        return FAULTS_FOUND
    print(report.as_json(found.trial) if options.json else report.as_table(found.trial))
    return 0


def _new(options: argparse.Namespace) -> int:
    from generator.new_record import new_record

    target = new_record(options.content, options.chassis, options.name)
    print(f"a record to fill in was written: {shown(str(target))}")
    return 0


def _why(options: argparse.Namespace) -> int:
    from generator.records.codes import all_codes, as_page, nearest

    if options.code is None:
        for code in all_codes():
            print(f"{code.code}  {code.title}")
        return 0
    wanted = options.code.strip().upper().strip("[]")
    page = as_page(wanted)
    if page is None:
        near = nearest(wanted)
        hint = f"; near it are {', '.join(near)}" if near else ""
        raise GuideError(f"there is no code `{wanted[:20]}`{hint}")
    print(page)
    return 0


def _verify(options: argparse.Namespace) -> int:
    from generator.verify import verify

    found = verify(options.manifest, options.content, today=today())
    for line in found.differing:
        print(shown(line))
    told = f"{found.inputs} records and {found.files} data files compared"
    if found.differing:
        print(f"{told}: {len(found.differing)} differences", file=sys.stderr)
        return FAULTS_FOUND
    print(f"{told}: nothing differs")
    return 0


def today() -> "date":
    """Give the day after which a date lies in the future: the clock's, or this version's."""
    from datetime import date

    return max(date.today(), date(*RELEASED))
