"""Which pages the guide has: what the modules of `views/` say, one file for each kind of page."""

from functools import cache
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType

from generator.reading.trouble import GuideError
from generator.site import views
from generator.site.guide import Guide
from generator.site.page import Page


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
