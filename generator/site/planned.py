"""The pages of a guide by address, each made only when somebody asks what it shows.

Two states of the records are compared page by page. What takes long is said on few pages; those of
a chassis of which nothing was touched are the same, and those that only one state has need not be
made at all.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import field
from functools import partial
from types import ModuleType

from generator.cache.digests import digest_of
from generator.frozen import dataclass
from generator.reading.fault import Fault
from generator.records.library import Filed, Library, photo_path, setup_path, sheet_path
from generator.records.setup import Setup
from generator.site.guide import Guide
from generator.site.page import Page
from generator.site.plan import is_by_chassis, view_modules

_Make = Callable[[], Page | None]


@dataclass(frozen=True)
class Planned:
    """Pages by address: how each is made, and what it follows from where that is known."""

    makers: Mapping[str, _Make] = field(default_factory=dict)
    grounds: Mapping[str, str] = field(default_factory=dict)

    def addresses(self) -> frozenset[str]:
        """Give the addresses of all pages."""
        return frozenset(self.makers)

    def differs(self, other: "Planned", path: str) -> bool:
        """Tell whether a page that both have shows something else in the other."""
        own = self.grounds.get(path)
        if own is not None and own == other.grounds.get(path):
            return False
        return self.makers[path]() != other.makers[path]()


def planned(guide: Guide, faults: tuple[Fault, ...]) -> Planned:
    """Plan the pages of a guide; `faults` are those of its files."""
    makers: dict[str, _Make] = {}
    grounds: dict[str, str] = {}
    by_chassis = [module for module in view_modules() if is_by_chassis(module)]
    club, texts, found = guide.library.club, _texts(guide.library), by_path(faults)
    for name, part in zip(guide.part_names(), guide.parts(), strict=True):
        told = page_grounds(guide, name, found, texts.get)
        own = digest_of((club.source.text if club else "", *told))
        for path, make in (each for module in by_chassis for each in _makers(module, part)):
            makers[path], grounds[path] = make, own
    for module in view_modules():
        if module not in by_chassis:
            makers.update(_makers(module, guide))
    return Planned(makers, grounds)


def page_grounds(
    guide: Guide,
    chassis: str,
    faults: Mapping[str, Sequence[Fault]],
    text_of: Callable[[str], str | None],
) -> Iterator[str]:
    """Give all that the pages of one chassis follow from, beside program and club; none is read.

    `faults` are those of all files by path; those of the setups of the chassis count. `text_of`
    gives the text of a file, or a digest of it.
    """
    setups = [setup_path(each) for each in guide.ids_of(chassis)]
    yield chassis
    for path in (sheet_path(chassis), *setups):
        yield f"{path} {text_of(path)}"
        yield f"{guide.history.is_known} {guide.history.of(path)!r}"
    yield repr(guide.reading)
    yield repr(guide.photos_of(chassis))
    yield repr([fault for path in setups for fault in faults.get(path, ())])


def by_path(faults: Iterable[Fault]) -> Mapping[str, Sequence[Fault]]:
    """Give faults by the path of their file."""
    found: dict[str, list[Fault]] = {}
    for fault in faults:
        found.setdefault(fault.place.path, []).append(fault)
    return found


def _texts(library: Library) -> Mapping[str, str]:
    filed = (library.chassis.values(), library.setups.values())
    return {each.source.path: each.source.text for group in filed for each in group}


def setup_grounds(part: Guide, filed: Filed[Setup], faults: tuple[Fault, ...]) -> Iterator[str]:
    """Give all that the pages of one setup follow from, beside the program and what is around them.

    `faults` may be those of all files; those of its own count.
    """
    library, setup = part.library, filed.value
    older = {f"{folder}/{setup.supersedes}" for folder in (setup.chassis, filed.id.split("/")[0])}
    newer = (each for each in library.setups.values() if _replaces(each, filed))
    told = [filed, library.chassis.get(setup.chassis), *map(library.setups.get, sorted(older))]
    for each in (*told, *newer):
        yield from (each.id, each.source.path, each.source.text) if each else ("", "", "")
    known = part.evidence.get(setup.chassis)
    yield known.grounds if known else ""
    yield f"{part.history.is_known} {part.history.told} {part.history.of(filed.source.path)!r}"
    folder = photo_path(filed.id, "")
    yield repr(sorted(each for each in _photos(part) if each[0].startswith(folder)))
    yield repr(tuple(fault for fault in faults if fault.place.path == filed.source.path))


def _replaces(newer: Filed[Setup], older: Filed[Setup]) -> bool:
    folder, _, name = older.id.partition("/")
    return newer.value.supersedes == name and newer.id.startswith(f"{folder}/")


def _photos(part: Guide) -> Iterator[tuple[str, str]]:
    for path, photo in (part.library.photos or {}).items():
        if path.split("/", 1)[-1].rpartition("/")[0] in part.library.setups:
            yield path, repr(photo)


def _makers(module: ModuleType, guide: Guide) -> Iterator[tuple[str, _Make]]:
    if hasattr(module, "addresses"):
        for path in module.addresses(guide):
            yield path, partial(module.page_at, guide, path)
        return
    for page in module.pages(guide):
        yield page.path, partial(_given, page)


def _given(page: Page) -> Page:
    return page
