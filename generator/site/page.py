"""A page as data: its address, its template, and what the template shows."""

from generator.frozen import dataclass
from generator.site.shell import PageHead


@dataclass(frozen=True)
class Page:
    """One page of the guide.

    `path` is its address below the guide's root, `view` the name of its view and of its template.
    Addresses inside `context` are such paths too; the template's `href(path)` makes them relative.
    `moved_to` is the address of the page that took this one's place, where one did.
    """

    path: str
    view: str
    head: PageHead
    context: object
    moved_to: str = ""


@dataclass(frozen=True)
class DataFile:
    """A file of the guide that is not a page: its address and its text."""

    path: str
    text: str
