"""A site whose pages are made when somebody asks for them.

What takes long in a guide is said on few pages, and who edits a record looks at one of them. So a
view gives its pages one by one until the one that was asked for has come; where an address was
found before tells which view to ask first. A page that shows the same as before keeps its text.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from threading import Lock
from types import ModuleType
from typing import overload

from generator.cache.store import Store
from generator.rendering.environment import template_folder
from generator.rendering.offline import install_files
from generator.rendering.render import Renderer
from generator.site.guide import Guide
from generator.site.page import DataFile, Page
from generator.site.plan import view_modules

_DATA = frozenset(
    {"json", "jsonl", "csv", "xml", "txt", "atom", "js", "svg", "webmanifest", "yaml"}
)


class _View:
    """The pages and files of one view, as far as they were asked for."""

    def __init__(self, module: ModuleType, guide: Guide, every_page: Sequence[Page]) -> None:
        self._module, self._guide = module, guide
        self._pages: Iterator[Page] = iter(module.pages(guide))
        files = module.files(guide, every_page) if hasattr(module, "files") else ()
        self._files: Iterator[DataFile] = iter(files)
        self.knows_its_addresses = hasattr(module, "page_at")
        self.pages: dict[str, Page] = {}
        self.files: dict[str, DataFile] = {}

    def page(self, path: str) -> Page | None:
        """Give the page at an address: alone if the view can, else with those before it."""
        if path not in self.pages and self.knows_its_addresses:
            alone: Page | None = self._module.page_at(self._guide, path)
            if alone is not None:
                self.pages[path] = alone
            return alone
        while path not in self.pages and (page := next(self._pages, None)) is not None:
            self.pages[page.path] = page
        return self.pages.get(path)

    def file(self, path: str) -> DataFile | None:
        """Give the file at an address."""
        while path not in self.files and (file := next(self._files, None)) is not None:
            self.files[file.path] = file
        return self.files.get(path)

    def every_page(self) -> Mapping[str, Page]:
        """Make all pages that are left."""
        for page in self._pages:
            self.pages[page.path] = page
        return self.pages


class _EveryPage(Sequence[Page]):
    """All pages in order of address, for the few files that speak of all: made when looked at."""

    def __init__(self, site: "LazySite") -> None:
        self._site = site

    def __len__(self) -> int:
        return len(self._site.every_page())

    @overload
    def __getitem__(self, at: int) -> Page: ...
    @overload
    def __getitem__(self, at: slice) -> Sequence[Page]: ...
    def __getitem__(self, at: int | slice) -> Page | Sequence[Page]:
        return self._site.every_page()[at]


class LazySite:
    """One guide, page by page on demand. Safe for several threads."""

    def __init__(
        self,
        guide: Guide,
        earlier: "LazySite | None" = None,
        photo: Callable[[str], bytes | None] = lambda _: None,
        store: Store | None = None,
    ) -> None:
        self._guide = guide
        self._photo = photo
        before = None if earlier is None else earlier._renderer
        self._renderer: Renderer = Renderer(guide, store=store, earlier=before)
        fixed = (*self._renderer.assets(), *install_files(guide, template_folder()))
        self._fixed = {str(each.path): each.content for each in fixed}
        every_page = _EveryPage(self)
        self._views = [_View(module, guide, every_page) for module in view_modules()]
        self._texts: dict[str, tuple[Page, bytes]] = {}
        self._lock = Lock()
        self._hints: dict[str, int] = {} if earlier is None else dict(earlier._hints)
        if earlier is not None and earlier._frame() == self._frame():
            self._texts = dict(earlier._texts)

    def file(self, path: str) -> bytes | None:
        """Give the bytes at an address; None where the guide has none."""
        if path in self._fixed:
            return self._fixed[path]
        suffix = path.rsplit(".", 1)[-1]
        # Drawing is not made for two threads at once.
        with self._lock:
            if suffix == "html":
                return self._text(path)
            if suffix == "jpg":
                return self._photo(path)
            if suffix not in _DATA:
                return None
            found = (view.file(path) for view in self._views)
            return next((file.text.encode() for file in found if file is not None), None)

    def every_page(self) -> tuple[Page, ...]:
        """Give all pages, in order of address."""
        pages = {path: page for view in self._views for path, page in view.every_page().items()}
        return tuple(pages[path] for path in sorted(pages))

    def _text(self, path: str) -> bytes | None:
        found = ((at, page) for at in self._likely(path) if (page := self._views[at].page(path)))
        at, page = next(found, (0, None))
        if page is None:
            return None
        self._hints[path] = at
        known = self._texts.get(path)
        if known is None or known[0] != page:
            known = (page, self._renderer.text(page).encode())
            self._texts[path] = known
        return known[1]

    def _likely(self, path: str) -> list[int]:
        """Give the numbers of all views: first that of this address, then those of its folder.

        Those that know their own addresses come before those that make all their pages to see.
        """
        folder = path.rpartition("/")[0]
        near = {at for known, at in self._hints.items() if known.rpartition("/")[0] == folder}
        own = self._hints.get(path)
        quick = {at for at, view in enumerate(self._views) if view.knows_its_addresses}

        def order(at: int) -> tuple[bool, bool, bool, int]:
            return at != own, at not in near, at not in quick, at

        return sorted(range(len(self._views)), key=order)

    def _frame(self) -> tuple[object, ...]:
        """Give what every page shows beside its own content."""
        return (self._guide.club, self._guide.data_as_of, sorted(self._fixed.items()))
