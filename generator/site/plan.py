"""Which pages and files the guide has: what the modules of `views/` say, one for each kind of page.

A module gives its pages by `pages(guide)`. One that has files beside them, such as data and feeds,
gives those by `files(guide, pages)`, where `pages` are all pages of the guide.
"""

from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType

from generator.reading.trouble import GuideError
from generator.site import views
from generator.site.guide import Guide
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
    pages: dict[str, Page] = {}
    for module in view_modules():
        for page in module.pages(guide):
            if page.path in pages:
                raise GuideError(f"two pages have the address `{page.path}`")
            pages[page.path] = page
    return tuple(pages[path] for path in sorted(pages))


def plan_files(guide: Guide, pages: tuple[Page, ...]) -> tuple[DataFile, ...]:
    """Give all files of a guide that are not pages, in order of address.

    Raises GuideError if a file has the address of a page or of another file.
    """
    taken = {page.path for page in pages}
    files: dict[str, DataFile] = {}
    for module in view_modules():
        if not hasattr(module, "files"):
            continue
        for file in module.files(guide, pages):
            if file.path in taken:
                raise GuideError(f"two files have the address `{file.path}`")
            taken.add(file.path)
            files[file.path] = file
    return tuple(files[path] for path in sorted(files))
