"""One setup at a time: its finished pages, files and rows, kept by all that they follow from.

Where one record of a chassis changes and moves no limit, the others' pages are not looked at again.
"""

from collections.abc import Iterator, Mapping

from generator.cache.digests import digest_of
from generator.cache.store import Store
from generator.frozen import dataclass
from generator.reading.fault import Fault
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.rendering.manifest import Entry
from generator.rendering.render import Renderer
from generator.site.data.writing import rows_told
from generator.site.guide import Guide
from generator.site.lifecycle import replaced_by
from generator.site.links import PageLinks
from generator.site.plan import setup_files, setup_pages
from generator.site.planned import setup_grounds
from generator.site.views.data import data_tables


@dataclass(frozen=True)
class Finished:
    """Pages and files, with the links of those that are pages; rows of tables, by file."""

    files: tuple[Entry, ...]
    links: Mapping[str, PageLinks]
    rows: Mapping[str, str]


def finished(
    part: Guide, faults: tuple[Fault, ...], renderer: Renderer, store: Store
) -> Iterator[Finished]:
    """Give what each setup of a chassis has for itself, in order of id.

    `faults` are those of their files.
    """
    replaced = replaced_by(part.library)
    for filed in (part.library.setups[name] for name in sorted(part.library.setups)):
        name = digest_of(("finished", *renderer.around, *setup_grounds(part, filed, faults)))
        known: Finished | None = store.get(name)
        if known is None or not all(store.has_file(each.sha256) for each in known.files):
            known = _made(part, filed, replaced, renderer=renderer, store=store)
            store.put(name, known)
        yield known


def _made(
    part: Guide,
    filed: Filed[Setup],
    replaced: Mapping[str, Filed[Setup]],
    *,
    renderer: Renderer,
    store: Store,
) -> Finished:
    links: dict[str, PageLinks] = {}
    files: list[Entry] = []
    for page in setup_pages(part, filed, replaced):
        text, links[page.path] = renderer.linked(page)
        files.append(entry_of(store, page.path, text))
    for file in setup_files(part, filed, replaced):
        files.append(entry_of(store, file.path, file.text))
    rows = {
        f"{table.name}.{ending}": text
        for table in data_tables()
        if table.rows_of is not None
        for ending, text in rows_told(table, tuple(table.rows_of(part, filed.id, replaced))).items()
    }
    return Finished(tuple(files), links, rows)


def entry_of(store: Store, path: str, text: str) -> Entry:
    """Keep the text of a file and say where it goes."""
    content = text.encode("utf-8")
    return Entry(path, len(content), store.keep_file(content))
