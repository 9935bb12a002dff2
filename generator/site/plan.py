"""Which pages and files the guide has: what the modules of `views/` say, one for each kind of page.

A module gives its pages by `pages(guide)`. One that has files beside them, such as data and feeds,
gives those by `files(guide, pages)`, where `pages` are all pages of the guide.

So that a large guide can be made chassis by chassis, a module also says how it is put together:

- `BY_CHASSIS = True`: its pages of a guide of one chassis are its pages of that chassis. With
  `page_of(guide, setup, replaced)` they are one of each setup, and follow from no more than the
  setup, its sheet, what is known of its chassis, and the records that it replaces or is replaced
  by; `files_of` of the same says the same of files.
- `share(guide)` gives what it needs of a guide of one chassis, and `joined(guide, shares)` makes
  its pages of that; `guide` has all records then, and nothing that was computed.
- Neither: its pages show nothing that was computed.
- `part_files(guide)` gives the files of one chassis, `joined_files(joining)` those of the whole; a
  module with neither has files that show nothing that was computed.
"""

from collections.abc import Iterator, Mapping
from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType
from typing import Any

from generator.reading.trouble import GuideError
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.site import views
from generator.site.guide import Guide
from generator.site.joining import Joining
from generator.site.page import DataFile, Page


@cache
def view_modules() -> tuple[ModuleType, ...]:
    """Give the modules of all views, by name."""
    names = sorted(module.name for module in iter_modules(views.__path__))
    return tuple(import_module(f"{views.__name__}.{name}") for name in names)


def plan(guide: Guide) -> tuple[Page, ...]:
    """Give all pages of a guide, in order of address.

    Raises GuideError if two pages have one address.
    """
    return _pages(page for module in view_modules() for page in module.pages(guide))


def plan_files(guide: Guide, pages: tuple[Page, ...]) -> tuple[DataFile, ...]:
    """Give all files of a guide that are not pages, in order of address.

    Raises GuideError if a file has the address of a page or of another file.
    """
    files = _files(
        file
        for module in view_modules()
        if hasattr(module, "files")
        for file in module.files(guide, pages)
    )
    both = {page.path for page in pages} & {file.path for file in files}
    if both:
        raise GuideError(f"two files have the address `{min(both)}`")
    return files


def part_pages(part: Guide) -> tuple[Page, ...]:
    """Give the pages of a guide of one chassis that are that chassis' own, and no one setup's."""
    return _pages(
        page
        for module in view_modules()
        if is_by_chassis(module) and not hasattr(module, "page_of")
        for page in module.pages(part)
    )


def setup_pages(
    part: Guide, setup: Filed[Setup], replaced: Mapping[str, Filed[Setup]]
) -> tuple[Page, ...]:
    """Give the pages of one setup. `replaced`: the newer record of each that is replaced."""
    found = (module for module in view_modules() if hasattr(module, "page_of"))
    return tuple(module.page_of(part, setup, replaced) for module in found)


def setup_files(
    part: Guide, setup: Filed[Setup], replaced: Mapping[str, Filed[Setup]]
) -> tuple[DataFile, ...]:
    """Give the files of one setup, beside its pages. `replaced`: as above."""
    found = (module for module in view_modules() if hasattr(module, "files_of"))
    return tuple(file for module in found for file in module.files_of(part, setup, replaced))


def part_files(part: Guide) -> tuple[DataFile, ...]:
    """Give the files, beside pages and tables, that are one chassis' own, and no one setup's."""
    found = (module for module in view_modules() if hasattr(module, "part_files"))
    return _files(file for module in found for file in module.part_files(part))


def part_shares(part: Guide) -> dict[str, Any]:
    """Give what each view needs of a guide of one chassis, by the view's name."""
    found = (module for module in view_modules() if hasattr(module, "share"))
    return {_name(module): module.share(part) for module in found}


def joined_pages(joining: Joining) -> tuple[Page, ...]:
    """Give the pages that are not one chassis' own."""
    return _pages(page for module in view_modules() for page in _joined(module, joining))


def joined_files(joining: Joining) -> tuple[DataFile, ...]:
    """Give the files that are not one chassis' own, and no tables."""
    return _files(file for module in view_modules() for file in _joined_files(module, joining))


def _joined(module: ModuleType, joining: Joining) -> Iterator[Page]:
    if hasattr(module, "share"):
        yield from module.joined(joining.guide, joining.shares[_name(module)])
    elif not is_by_chassis(module):
        yield from module.pages(joining.guide)


def _joined_files(module: ModuleType, joining: Joining) -> Iterator[DataFile]:
    if hasattr(module, "joined_files"):
        yield from module.joined_files(joining)
    elif hasattr(module, "files") and not hasattr(module, "part_files"):
        yield from module.files(joining.guide, ())


def is_by_chassis(module: ModuleType) -> bool:
    """Tell whether the pages of a view are each one chassis' own."""
    return bool(getattr(module, "BY_CHASSIS", False))


def _name(module: ModuleType) -> str:
    return module.__name__.rpartition(".")[2]


def _pages(pages: Iterator[Page]) -> tuple[Page, ...]:
    found: dict[str, Page] = {}
    for page in pages:
        if page.path in found:
            raise GuideError(f"two pages have the address `{page.path}`")
        found[page.path] = page
    return tuple(found[path] for path in sorted(found))


def _files(files: Iterator[DataFile]) -> tuple[DataFile, ...]:
    found: dict[str, DataFile] = {}
    for file in files:
        if file.path in found:
            raise GuideError(f"two files have the address `{file.path}`")
        found[file.path] = file
    return tuple(found[path] for path in sorted(found))
