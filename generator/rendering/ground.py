"""Where a site may be put, and where not; and that the place is still the same one later.

What is refused, before anything is changed: a target that is, holds or lies inside the content
folder; that is or holds the home folder; that is a repository's root or lies among its own
files; the root of a mount or of the file system; a link. The content folder and the target may
be siblings.

Links: the folder that holds the target is resolved once, and everything afterwards uses the
resolved path. Links above the project (a linked home, a linked `/tmp`) are the machine's own
affair. A link inside the project, that is below the folder that holds the content folder, is
never followed, for it can lead anywhere and comes with the repository.
"""

import os
from collections.abc import Iterator
from pathlib import Path

from generator.frozen import dataclass
from generator.reading.trouble import shown
from generator.rendering.disk import Kind, OutputRefused, kind_of

_REPOSITORY_SIGNS = (".git", ".hg", ".svn", ".jj", ".bzr")


@dataclass(frozen=True)
class Identity:
    """Which folder it is, whatever its name is now."""

    device: int
    inode: int

    @classmethod
    def of(cls, path: Path) -> "Identity":
        """Take the identity of what lies at a path, without following it."""
        state = os.lstat(path)
        return cls(state.st_dev, state.st_ino)


@dataclass(frozen=True)
class Ground:
    """A place found fit for a site: the resolved folder that holds it, and the site's name.

    The work names begin with a dot and hold the tool's name; they lie beside the target, so that
    a rename stays within one file system.
    """

    parent: Path
    name: str
    parent_identity: Identity
    target_identity: Identity | None

    @property
    def target(self) -> Path:
        """Where readers find the site."""
        return self.parent / self.name

    @property
    def new(self) -> Path:
        """Where the next site is written before it is put in place."""
        return self.parent / f".{self.name}.gapbook-new"

    @property
    def old(self) -> Path:
        """Where the earlier site stands while the new one is put in place."""
        return self.parent / f".{self.name}.gapbook-old"

    @property
    def lock(self) -> Path:
        """Where a build says that it is at work."""
        return self.parent / f".{self.name}.gapbook-lock"


def survey(target: Path, *, source: Path) -> Ground:
    """Find the place of a site, or raise OutputRefused with the reason."""
    source = source.resolve()
    _refuse_links(target, project=source.parent)
    if target.name in ("", ".."):
        target = target.resolve()
    try:
        parent = target.parent.resolve(strict=True)
    except (OSError, RuntimeError):
        raise OutputRefused(
            f"the folder {shown(str(target.parent))}, in which the site would lie, cannot be "
            "opened; make it first"
        ) from None
    place = parent / target.name
    reason = next(_reasons(place, source), None)
    if reason:
        raise OutputRefused(f"no site is written to {shown(str(place))}: {reason}")
    return Ground(parent, target.name, Identity.of(parent), _identity(place))


def survey_again(ground: Ground) -> None:
    """Raise OutputRefused if another folder, or a link, has come to lie at the same path."""
    path = ground.target
    if ground.parent.resolve() != ground.parent or Identity.of(ground.parent) != (
        ground.parent_identity
    ):
        path = ground.parent
    elif _identity(path) == ground.target_identity:
        return
    raise OutputRefused(
        f"{shown(str(path))} became another folder or a link while the site was written; "
        "it was left as it is"
    )


def _identity(path: Path) -> Identity | None:
    """Take the identity of what lies at a path; another build may just be renaming it."""
    try:
        return Identity.of(path)
    except FileNotFoundError:
        return None


def _refuse_links(target: Path, *, project: Path) -> None:
    whole = Path.cwd() / target
    for step in (whole, *whole.parents):
        if not step.is_symlink():
            continue
        if step == whole or is_within(step.parent.resolve(), project):
            raise OutputRefused(
                f"no site is written to {shown(str(target))}: {shown(str(step))} is a link, and "
                "links are not followed; name the folder it leads to"
            )


def _reasons(place: Path, source: Path) -> Iterator[str]:
    """Say why no site may lie at a resolved path."""
    if place == Path(place.anchor):
        yield "it is the root of the file system"
    elif is_within(source, place) and is_within(place, source):
        yield "it is the content folder itself"
    elif is_within(source, place):
        yield f"it holds the content folder, {shown(str(source))}"
    elif is_within(place, source):
        yield f"it lies inside the content folder, {shown(str(source))}"
    if any(is_within(home, place) for home in _homes()):
        yield "it is or holds the home folder"
    if any(part in _REPOSITORY_SIGNS for part in place.parts):
        yield "it lies among the files that a repository keeps about itself"
    for sign in _REPOSITORY_SIGNS:
        if os.path.lexists(place / sign):
            yield f"it is the root of a repository, for it holds `{sign}`"
    if place.is_mount():
        yield "it is the root of a mount; name a folder inside it"
    if kind_of(place) not in (None, Kind.FOLDER):
        yield "what lies there is not a folder"


def is_within(inner: Path, outer: Path) -> bool:
    """Say whether a path is a folder or lies in it, however the folder is spelled."""
    if inner == outer or outer in inner.parents:
        return True
    if not outer.exists():
        return False
    # another spelling: other case where case is not told apart, or a second mount of one folder
    try:
        return any(step.exists() and step.samefile(outer) for step in (inner, *inner.parents))
    except FileNotFoundError:
        # Another build has just renamed it; who holds the lock looks once more.
        return False


def _homes() -> tuple[Path, ...]:
    """Find the home folder as the environment names it and as the accounts do."""
    named = [os.path.expanduser("~")]  # noqa: PTH111 - the method raises where no home is known
    try:
        import pwd

        named.append(pwd.getpwuid(os.getuid()).pw_dir)
    except (ImportError, KeyError):  # Windows has no such list; an account may be missing in it
        pass
    return tuple(Path(home).resolve() for home in named if Path(home).is_absolute())
