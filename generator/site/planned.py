"""The pages of a guide by address, each made only when somebody asks what it shows.

Two states of the records are compared page by page. What takes long is said on few pages; those of
a chassis of which nothing was touched are the same, and those that only one state has need not be
made at all.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import field
from functools import partial
from types import ModuleType

from generator.cache.digests import digest_of
from generator.frozen import dataclass
from generator.reading.fault import Fault
from generator.records.library import Filed, photo_path
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
    for part in guide.parts():
        own = digest_of(page_grounds(part, faults))
        for path, make in (each for module in by_chassis for each in _makers(module, part)):
            makers[path], grounds[path] = make, own
    for module in view_modules():
        if module not in by_chassis:
            makers.update(_makers(module, guide))
    return Planned(makers, grounds)


def page_grounds(part: Guide, faults: tuple[Fault, ...]) -> Iterator[str]:
    """Give all that the pages of one chassis follow from, beside the program.

    `faults` may be those of all files; those of the setups of the chassis count.
    """
    library = part.library
    for filed in (library.club, *library.chassis.values(), *library.setups.values()):
        if filed is not None:
            yield from (filed.id, filed.source.path, filed.source.text)
            yield f"{part.history.is_known} {part.history.of(filed.source.path)!r}"
    yield repr(part.reading)
    yield repr(sorted(_photos(part)))
    paths = {filed.source.path for filed in library.setups.values()}
    yield repr(tuple(fault for fault in faults if fault.place.path in paths))


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
