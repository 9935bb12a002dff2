"""From pages as data to files: each page through its template, with the style sheet beside them."""

import pickle
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import PurePosixPath
from typing import TYPE_CHECKING

from generator.cache.digests import digest
from generator.cache.program import program_and_templates
from generator.cache.store import Store
from generator.frozen import dataclass
from generator.reading.trouble import GuideError
from generator.records.words import Subject, UnitsShown
from generator.rendering.environment import build_environment, template_folder
from generator.rendering.figures import give_figures, give_prose
from generator.rendering.manifest import Artifact
from generator.rendering.offline import install_files, worker_files
from generator.rendering.scripts import scripts
from generator.rendering.stylesheet import Asset, stylesheet
from generator.site import urls
from generator.site.guide import Guide
from generator.site.links import DeadLink, PageLinks, dead_links, page_links
from generator.site.page import DataFile, Page
from generator.site.shell import Link, NavLink, PageHead, Shell

if TYPE_CHECKING:
    from jinja2 import Environment


@dataclass(frozen=True)
class _Files:
    style: Asset
    scripts: dict[str, Asset]
    is_kept: bool


_NAV = (
    ("Chassis", urls.HOME),
    ("Find", urls.FIND),
    ("Try", urls.TRY),
    ("Submit", urls.SUBMIT),
    ("Tyre book", urls.TYRE_BOOK),
    ("Articles", urls.ARTICLES),
    ("Method", urls.METHOD),
    ("Glossary", urls.GLOSSARY),
)
_FOOTER = (
    ("For maintainers", urls.MAINTAINERS),
    ("Data and feeds", urls.DATA),
    ("Fields of a record", urls.RECORD_REFERENCE),
    ("Faults explained", urls.FAULTS),
)


def render(
    guide: Guide,
    pages: Iterable[Page],
    data: Iterable[DataFile] = (),
    photos: Iterable[Artifact] = (),
) -> tuple[Artifact, ...]:
    """Render all pages and the files they need, and pass on the files that are finished.

    Raises GuideError for a template that cannot be rendered and for a link that leads nowhere.
    """
    renderer = Renderer(guide, is_kept=guide.club.offline is not False)
    texts = {page.path: renderer.text(page) for page in pages}
    beside = [
        *renderer.assets(),
        *install_files(guide, template_folder()),
        *(_artifact(file.path, file.text.encode("utf-8")) for file in data),
        *photos,
    ]
    dead = dead_links(texts, [str(each.path) for each in beside])
    if dead:
        raise GuideError(told_of_dead(dead))
    made = (*(_artifact(path, text.encode("utf-8")) for path, text in texts.items()), *beside)
    return (*made, *worker_files(guide, made, template_folder()))


def told_of_dead(dead: Sequence[DeadLink]) -> str:
    """Say in one line how many links lead nowhere, and which is the first."""
    first = dead[0]
    return (
        f"{len(dead)} links lead nowhere; the first is `{first.address}` on `{first.page}`: "
        f"{first.reason}"
    )


class Renderer:
    """Renders single pages of one guide, with the files that every page needs.

    `is_kept` says that a worker will stand beside them, which keeps pages on the reader's device.
    `store` keeps compiled templates. `earlier` rendered another state of the same guide: what it
    compiled is taken over, as far as the templates stand as they were.
    """

    def __init__(
        self,
        guide: Guide,
        *,
        is_kept: bool = False,
        store: Store | None = None,
        earlier: "Renderer | None" = None,
    ) -> None:
        self._guide = guide
        self._store = store
        club = guide.library.club
        given = (club.source.text if club else "", guide.data_as_of, repr(guide.reading))
        self.around = (program_and_templates(), *given, str(is_kept))
        """All that a page follows from beside what it shows."""
        self._environment: Environment = _environment(self._inch_first(), store, earlier)
        self._files = _Files(stylesheet(template_folder()), scripts(template_folder()), is_kept)

    def _inch_first(self) -> bool:
        return self._guide.club.units is UnitsShown.INCH

    def text(self, page: Page) -> str:
        """Render one page, or give it as it was where it shows the same. Links are not seen to."""
        return self.linked(page)[0]

    def linked(self, page: Page) -> tuple[str, PageLinks]:
        """Render one page, or give it as it was, with its links and the parts they can lead to."""
        grounds = b"" if self._store is None else _grounds(page)
        if self._store is None or not grounds:
            text = _page(self._guide, page, self._environment, self._files)
            return text, page_links(text)
        name = digest("page", *self.around, grounds)
        kept: tuple[str, PageLinks] | None = self._store.get(name)
        content = self._store.file(kept[0]) if kept else None
        if kept is not None and content is not None:
            return content.decode("utf-8"), kept[1]
        text = _page(self._guide, page, self._environment, self._files)
        links = page_links(text)
        self._store.put(name, (self._store.keep_file(text.encode("utf-8")), links))
        return text, links

    def assets(self) -> tuple[Artifact, ...]:
        """Give the style sheet and the scripts."""
        files = (self._files.style, *self._files.scripts.values())
        return tuple(_artifact(f"assets/{asset.name}", asset.body) for asset in files)


def _grounds(page: Page) -> bytes:
    """Give all that a page shows; nothing where it holds what cannot be written down.

    Two pages that show the same may differ here, and are rendered twice then.
    """
    try:
        return pickle.dumps(page, protocol=5)
    except (pickle.PicklingError, AttributeError, TypeError):
        return b""


def _environment(inch_first: bool, store: Store | None, earlier: Renderer | None) -> "Environment":
    if earlier is not None and earlier._inch_first() is inch_first:
        environment = earlier._environment
        environment.auto_reload = True
        return environment
    environment = build_environment(inch_first=inch_first, store=store)
    give_figures(environment)
    give_prose(environment)
    return environment


def _artifact(path: str, content: bytes) -> Artifact:
    return Artifact(PurePosixPath(path), content)


def _page(guide: Guide, page: Page, environment: "Environment", files: _Files) -> str:
    template = environment.get_template(f"pages/{page.view}.html")
    return template.render(
        shell=_shell(guide, page, files),
        page=_head(page),
        view=page.context,
        href=lambda path: urls.relative(page.path, path),
        reading=lambda subject: guide.reading[Subject(subject)],
        script=lambda name: urls.relative(page.path, f"assets/{files.scripts[name].name}"),
    )


def _head(page: Page) -> PageHead:
    """Give the head of a page with the addresses of its breadcrumb as seen from it."""
    steps = tuple(
        Link(step.label, urls.relative(page.path, step.href)) for step in page.head.breadcrumb
    )
    return replace(page.head, breadcrumb=steps)


def _shell(guide: Guide, page: Page, files: _Files) -> Shell:
    def href(path: str) -> str:
        return urls.relative(page.path, path)

    def script(name: str) -> str:
        return href(f"assets/{files.scripts[name].name}")

    return Shell(
        guide_name=guide.club.title,
        language="en",
        is_demo=guide.club.invented,
        data_as_of=guide.data_as_of,
        home_href=href(urls.HOME),
        method_href=href(urls.METHOD),
        style_href=href(f"assets/{files.style.name}"),
        boot_href=script("boot"),
        early_href=script("early"),
        units_href=script("units"),
        canonical_href=f"{guide.club.address}/{page.moved_to or page.path}",
        feed_href=href(urls.FEED),
        worker_href=href(urls.WORKER) if files.is_kept else "",
        offline_href=script("offline") if files.is_kept else "",
        manifest_href=href(urls.WEB_MANIFEST) if files.is_kept else "",
        icon_href=href(urls.ICON) if files.is_kept else "",
        nav=tuple(NavLink(label, href(path), path == page.path) for label, path in _NAV),
        footer_links=tuple(Link(label, href(path)) for label, path in _FOOTER),
    )
