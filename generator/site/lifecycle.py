"""The life of a record: reported, borne out, corrected, disputed, replaced, withdrawn.

A replaced or withdrawn record keeps its page and no longer counts. A disputed one counts: what it
says is weighed beside what the others say.
"""

from collections.abc import Iterator, Mapping
from datetime import date

from generator.frozen import dataclass
from generator.reading.history import FileHistory, History
from generator.records.chassis import Chassis
from generator.records.library import Case, Filed, Library
from generator.records.setup import Setup
from generator.site import urls
from generator.site.facts import told_day
from generator.site.shell import Link

COUNTS, DISPUTED, REPLACED, WITHDRAWN = "counts", "disputed", "replaced", "withdrawn"
STANDINGS = (COUNTS, DISPUTED, REPLACED, WITHDRAWN)


@dataclass(frozen=True)
class Event:
    """One thing that happened to a record, on a day; `link` leads to the other record of it."""

    day: date
    word: str
    text: str
    link: Link | None = None


@dataclass(frozen=True)
class Notice:
    """A banner above everything else: the record was withdrawn, replaced, disputed or corrected."""

    word: str
    text: str
    link: Link | None = None


@dataclass(frozen=True)
class Kept:
    """What git knows of a record's file; `told` says it in words where nothing is known."""

    told: str
    file: FileHistory | None


def replaced_by(library: Library) -> Mapping[str, Filed[Setup]]:
    """Give the newer record of each one that is replaced; a withdrawn one replaces none."""
    return {
        f"{setup.id.rsplit('/', 1)[0]}/{setup.value.supersedes}": setup
        for setup in library.setups.values()
        if setup.value.supersedes is not None and setup.value.withdrawn is None
    }


def standing(filed: Filed[Setup], replaced: Mapping[str, Filed[Setup]]) -> str:
    """Say in one word whether a record counts, and if not why."""
    if filed.value.withdrawn is not None:
        return WITHDRAWN
    if filed.id in replaced:
        return REPLACED
    return DISPUTED if any(each.settled is None for each in filed.value.disputes) else COUNTS


def has_lapsed(filed: Filed[Setup], replaced: Mapping[str, Filed[Setup]]) -> bool:
    """Tell whether a record was withdrawn or replaced, so that nothing follows from it any more."""
    return standing(filed, replaced) in (REPLACED, WITHDRAWN)


def events(
    filed: Filed[Setup], library: Library, replaced: Mapping[str, Filed[Setup]]
) -> tuple[Event, ...]:
    """Give all that happened to a record, the oldest first, with links to the records it names."""
    found = [*_own_events(filed, library)]
    newer = replaced.get(filed.id)
    if newer is not None:
        link = Link(newer.value.title, urls.setup(newer.id))
        found.append(
            Event(newer.value.date, "replaced", "by a newer record of the same car:", link)
        )
    if filed.value.withdrawn is not None:
        found.append(Event(filed.value.withdrawn.date, "withdrawn", filed.value.withdrawn.reason))
    return tuple(sorted(found, key=lambda event: event.day))


def _own_events(filed: Filed[Setup], library: Library) -> Iterator[Event]:
    setup = filed.value
    yield Event(setup.date, "reported", f"measured by {setup.member}")
    if setup.supersedes is not None:
        older = library.setups.get(f"{filed.id.rsplit('/', 1)[0]}/{setup.supersedes}")
        link = Link(older.value.title, urls.setup(older.id)) if older else None
        yield Event(setup.date, "replaces", "an older record of the same car:", link)
    for agreed in setup.confirmations:
        note = f": {agreed.note}" if agreed.note else ""
        yield Event(agreed.date, "borne out", f"{agreed.member} {agreed.how.value}{note}")
    for put_right in setup.corrections:
        by = f", found by {put_right.by}" if put_right.by else ""
        yield Event(put_right.date, "corrected", f"{put_right.what}{by}")
    for dispute in setup.disputes:
        label = label_of(dispute.site, library.chassis.get(setup.chassis))
        where = f" at the {label}" if label else ""
        ended = f"; settled: {dispute.settled}" if dispute.settled else "; not settled"
        text = f"{dispute.member}{where}: {dispute.claim}{ended}"
        yield Event(dispute.date, "disputed", text)


def notices(case: Case, newer: Filed[Setup] | None) -> Iterator[Notice]:
    """Say what a reader must know of a record before anything that it tells."""
    setup = case.setup.value
    if setup.withdrawn is not None:
        when = told_day(setup.withdrawn.date)
        yield Notice(WITHDRAWN, f"On {when}: {setup.withdrawn.reason}")
    if newer is not None:
        link = Link(newer.value.title, urls.setup(newer.id))
        text = (
            f"A newer record of the same car, of {told_day(newer.value.date)}, replaces this one:"
        )
        yield Notice(REPLACED, text, link)
    for dispute in setup.disputes:
        label = label_of(dispute.site, case.chassis)
        where = f" at the {label}" if label else ""
        text = f"{dispute.member} found on {told_day(dispute.date)}{where}: {dispute.claim}"
        if dispute.settled is None:
            yield Notice(DISPUTED, text)
        else:
            yield Notice("settled", f"{text}. What settled it: {dispute.settled}")


def label_of(name: str | None, sheet: Filed[Chassis] | None) -> str:
    """Give the words of the sheet for a site that is named by its short name; empty for none."""
    labels = [site.label for site in sheet.value.sites if site.name == name] if sheet else []
    return labels[0] if labels else name or ""


def last_day(filed: Filed[Setup], library: Library, replaced: Mapping[str, Filed[Setup]]) -> date:
    """Give the day of the last thing that happened to a record, as the records date it."""
    return max(event.day for event in events(filed, library, replaced))


def kept(path: str, history: History) -> Kept:
    """Say what git knows of a file."""
    file = history.of(path)
    if file is not None:
        return Kept(history.told, file)
    return Kept("not committed yet" if history.is_known else history.told, None)
