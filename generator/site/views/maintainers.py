"""The maintainers' page: what the records ask for next."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date

from generator.evidence.confidence import LimitFlag, Reason, RecordFlag, limit_confidence
from generator.evidence.limits import SitePosterior
from generator.evidence.worth import Measurement, worth_for_club
from generator.frozen import dataclass
from generator.quantities.units import Mm
from generator.reading.fault import Fault, Severity
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.records.site_sheet import SiteSheet
from generator.site import advice, urls
from generator.site.guide import Guide
from generator.site.lifecycle import replaced_by
from generator.site.page import Page
from generator.site.readings import named
from generator.site.shell import Link, PageHead
from generator.site.worth_shown import WorthLine, worth_lines

_MOST = 12
STALE_YEARS = 3
"""A record this much older than the newest, with nothing said of it since: own choice."""
_DAYS = 365.25


@dataclass(frozen=True)
class Questioned:
    """A record in question: what speaks against it, and what would settle it."""

    setup: Link
    member: str
    against: tuple[Reason, ...]
    settled_by: tuple[str, ...]


@dataclass(frozen=True)
class LeastKnown:
    """A site of which little is known, and what would help."""

    chassis: Link
    label: str
    side: str
    word: str
    words: str
    spread: Mm
    raise_by: str


@dataclass(frozen=True)
class Known:
    """How many sites and sides of a chassis are known how well."""

    chassis: Link
    counts: tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class Aging:
    """A record nobody has said anything of for long; years against the newest record."""

    setup: Link
    member: str
    last: date
    years: float


@dataclass(frozen=True)
class LastSaid:
    """A record that counts, with the last day on which anything was said of it."""

    setup: Link
    member: str
    last: date


@dataclass(frozen=True)
class FileFault:
    """A fault of a file, with the page that explains it."""

    path: str
    line: int
    code: Link
    headline: str


@dataclass(frozen=True)
class Maintainers:
    """All of the page."""

    questioned: tuple[Questioned, ...]
    known: tuple[Known, ...]
    least_known: tuple[LeastKnown, ...]
    newest: date | None
    stale_years: int
    stale: tuple[Aging, ...]
    oldest: tuple[Aging, ...]
    worth: tuple[WorthLine, ...]
    left_out: tuple[str, ...]
    errors: tuple[FileFault, ...]
    warnings: tuple[FileFault, ...]


@dataclass(frozen=True)
class Share:
    """What one chassis gives to the page; `questioned` by day and id of the record."""

    questioned: tuple[tuple[date, str, Questioned], ...]
    known: tuple[Known, ...]
    least_known: tuple[LeastKnown, ...]
    measurements: tuple[Measurement, ...]
    newest: date | None
    last_said: tuple[LastSaid, ...]


def share(guide: Guide) -> Share:
    """Give the share of a guide of one chassis."""
    return Share(
        tuple(_questioned(guide)),
        tuple(_known(guide)),
        tuple(sorted(_limits(guide), key=_how_little)[:_MOST]),
        worth_for_club(advice.measurements(guide, chassis) for chassis in guide.chassis()),
        max((filed.value.date for filed in guide.setups()), default=None),
        tuple(_last_said(guide)),
    )


def pages(guide: Guide) -> Iterator[Page]:
    """Give the page."""
    yield from joined(guide, [share(part) for part in guide.parts()])


def joined(guide: Guide, shares: Sequence[Share]) -> Iterator[Page]:
    """Give the page from what each chassis gives to it."""
    newest = max((each.newest for each in shares if each.newest), default=None)
    said = (each for share in shares for each in share.last_said)
    aging = sorted(_aging(said, newest), key=lambda each: (each.last, each.setup.href))
    asked = sorted((each for share in shares for each in share.questioned), key=_newest_first)
    known = (each for share in shares for each in share.known)
    least = (each for share in shares for each in share.least_known)
    view = Maintainers(
        questioned=tuple(each for _, _, each in asked),
        known=tuple(sorted(known, key=lambda each: (each.chassis.label, each.chassis.href))),
        least_known=tuple(sorted(least, key=_how_little)[:_MOST]),
        newest=newest,
        stale_years=STALE_YEARS,
        stale=tuple(each for each in aging if each.years > STALE_YEARS),
        oldest=tuple(aging[:5]),
        worth=worth_lines(guide, worth_for_club(each.measurements for each in shares)),
        left_out=guide.left_out,
        errors=tuple(_faults(guide, Severity.ERROR)),
        warnings=tuple(_faults(guide, Severity.WARNING)),
    )
    head = PageHead(
        "For maintainers",
        "Records in question, sites least known, records going stale, and what to measure next.",
        (Link("Home", urls.HOME),),
    )
    yield Page(urls.MAINTAINERS, "maintainers", head, view)


def _newest_first(asked: tuple[date, str, Questioned]) -> tuple[int, str]:
    return (-asked[0].toordinal(), asked[1])


def _questioned(guide: Guide) -> Iterator[tuple[date, str, Questioned]]:
    for filed in guide.setups():
        known = guide.confidence.get(filed.id)
        if known is None or known.flag is not RecordFlag.IN_QUESTION:
            continue
        against = tuple(reason for reason in known.reasons if not reason.holds)
        asked = Questioned(_link(filed), filed.value.member, against, known.raise_by)
        yield filed.value.date, filed.id, asked


def _link(filed: Filed[Setup]) -> Link:
    return Link(filed.value.title, urls.setup(filed.id))


def _posteriors(guide: Guide, chassis: str) -> Iterator[tuple[SiteSheet, str, SitePosterior]]:
    """Give every limit of a chassis, and each site without any by its sheet alone."""
    evidence = guide.evidence[chassis]
    spoken = set()
    for key, limit in evidence.limits.items():
        spoken.add((key.axle, key.site))
        yield limit.site, f"{key.side.value}, {key.condition.value}", limit.posterior
    for site in guide.library.chassis[chassis].value.sites:
        if (site.axle, site.name) not in spoken:
            yield site, "both, stock", evidence.sheet_alone[f"{site.axle.value}.{site.name}"]


def _known(guide: Guide) -> Iterator[Known]:
    for filed in guide.chassis():
        flags = Counter(
            limit_confidence(posterior).flag for _, _, posterior in _posteriors(guide, filed.id)
        )
        counts = tuple((flag.value, flags[flag]) for flag in LimitFlag)
        yield Known(Link(filed.value.name, urls.chassis(filed.id)), counts)


def _limits(guide: Guide) -> Iterator[LeastKnown]:
    for filed in guide.chassis():
        link = Link(filed.value.name, f"{urls.chassis(filed.id)}#limits")
        for site, side, posterior in _posteriors(guide, filed.id):
            known = limit_confidence(posterior)
            yield LeastKnown(
                link, named(site), side, known.flag.value, known.words,
                posterior.limits.spread, known.raise_by,
            )  # fmt: skip


def _how_little(known: LeastKnown) -> tuple[Mm, str, str, str]:
    return (-round(known.spread, 1), known.chassis.href, known.label, known.side)


def _aging(said: Iterable[LastSaid], newest: date | None) -> Iterator[Aging]:
    for each in said:
        years = ((newest or each.last) - each.last).days / _DAYS
        yield Aging(each.setup, each.member, each.last, years)


def _last_said(guide: Guide) -> Iterator[LastSaid]:
    replaced = replaced_by(guide.library)
    for filed in guide.setups():
        setup = filed.value
        if setup.withdrawn is not None or filed.id in replaced:
            continue
        said = [setup.date, *(each.date for each in setup.confirmations)]
        said += [each.date for each in setup.corrections]
        said += [each.date for each in setup.disputes]
        yield LastSaid(_link(filed), setup.member, max(said))


def _faults(guide: Guide, severity: Severity) -> Iterator[FileFault]:
    for fault in guide.faults:
        if fault.severity is severity:
            yield _fault(fault)


def _fault(fault: Fault) -> FileFault:
    code = Link(fault.code, urls.fault(fault.code))
    return FileFault(fault.place.path, fault.place.line, code, fault.headline)
