"""The verbs of `gapbook` for the keeper of a club's forge: its forms, and what came in by them."""

import argparse
import sys
from collections.abc import Callable
from pathlib import Path

from generator.content_folder import OR_ELSE, content_here
from generator.reading.trouble import GuideError, shown

Verb = Callable[[str, str, str, Callable[[argparse.Namespace], int]], argparse.ArgumentParser]
_FAULTS_FOUND = 1


def add_verbs(verb: Verb) -> None:
    """Add the verbs; `verb` makes one of its name, what it does, an example and its handler."""
    does = "write the forge's issue forms and request templates"
    forms = verb("forms", does, "gapbook forms --out .", _forms)
    forms.add_argument(
        "--out", type=Path, default=Path(), metavar="DIR", help="top of the repository (default: .)"
    )
    does = "write a picture anew, with nothing in it but the picture"
    photo = verb("photo", does, "gapbook photo IMG_1234.jpg --out gauge-at-the-strut.jpg", _photo)
    photo.add_argument("picture", type=Path, metavar="PICTURE", help="a JPEG, PNG or WebP picture")
    photo.add_argument(
        "--out", type=Path, required=True, metavar="FILE",
        help="new JPEG file, at most 1600 pixels wide; a file that is there is never replaced",
    )  # fmt: skip
    does = "make records of issues that members filled in"
    issue = verb("from-issue", does, "gapbook from-issue issue-12.md --into content_demo", _issue)
    issue.add_argument("files", nargs="+", type=Path, metavar="FILE", help="text of an issue")
    issue.add_argument(
        "--into", type=Path, default=content_here(), metavar="CONTENT",
        help=f"content folder {OR_ELSE}; a record that is there is never replaced",
    )  # fmt: skip


def _forms(options: argparse.Namespace) -> int:
    from generator.review.forge_forms import forge_files

    files = forge_files()
    for path, text in files.items():
        target = options.out / path
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_text(text, "utf-8")
    sys.stdout.write(f"{len(files)} files written below {shown(str(options.out))}\n")
    return 0


def _photo(options: argparse.Namespace) -> int:
    from generator.reading.folder import read_at_most
    from generator.reading.pictures.picture import LARGEST_PHOTO, NoPicture, look
    from generator.reading.pictures.pixels import files

    body = read_at_most(options.picture, LARGEST_PHOTO)
    try:
        *_, largest = files(look(body))
    except NoPicture as trouble:
        told = f"{trouble.headline}; wanted is {trouble.expected}"
        raise GuideError(f"`{options.picture}`: {told}") from trouble
    if options.out.suffix != ".jpg":
        raise GuideError(f"`{options.out}` would be a JPEG picture: give it a name ending in .jpg")
    with options.out.open("xb") as file:
        file.write(largest)
    sys.stdout.write(f"{shown(str(options.out))}: {len(largest)} bytes, the picture alone\n")
    return 0


def _issue(options: argparse.Namespace) -> int:
    made = [_made(file, options.into) for file in options.files]
    return 0 if all(made) else _FAULTS_FOUND


def _made(file: Path, content: Path) -> bool:
    """Make a record of one issue and answer it; whatever is wrong, the next one is read too."""
    from generator.reading.folder import odd_name
    from generator.review.issue import LONGEST, Reported, answer, reported

    try:
        with file.open("rb") as issue:
            body = issue.read(4 * LONGEST).decode("utf-8", "replace")
    except OSError as error:
        raise GuideError(f"cannot read `{file}`: {error.strerror}") from error
    found = reported(body)
    if found.path is not None:
        target = content / found.path
        trouble = ""
        if odd_name(found.path) is not None:
            trouble = "its name would be no name for a file of the guide"
        elif not (content / f"chassis/{target.parent.name}.yaml").is_file():
            trouble = f"the guide has no chassis sheet `{target.parent.name}`"
        elif target.exists() or target.is_symlink():
            trouble = f"there is a record `{found.path}` already"
        if trouble:
            found = Reported(None, "", (*found.remarks, trouble))
        else:
            target.parent.mkdir(parents=True, exist_ok=True)
            with target.open("x", encoding="utf-8") as record:
                record.write(found.text)
    sys.stdout.write(f"## {shown(file.name)}\n\n{answer(found)}\n")
    return found.path is not None
