"""The whole review: two states of the records compared, ranked by consequence."""

from collections.abc import Iterator

from generator.assessment.assess import Assessment
from generator.assessment.numbers import Named, numbers
from generator.evidence.confidence import RecordFlag
from generator.frozen import dataclass
from generator.quantities.estimate import Estimate
from generator.quantities.units import Mm
from generator.reading.fault import Fault
from generator.reading.source import SourceFile
from generator.review.asks import asks
from generator.review.compared import Compared, compared
from generator.review.duplicates import Duplicate, duplicates
from generator.review.edition import Edition, setup_id
from generator.review.fields import FieldChange, changed_lines, field_changes
from generator.review.movement import Coverage, LimitMove, coverage, limit_moves
from generator.review.outlook import ChanceMove, Flip, chance_moves, flips, word
from generator.review.standing import Doubt, FlagMove, doubts, flag_moves

STEP: Mm = 0.05
"""Half of the step in which computed numbers are shown."""


@dataclass(frozen=True)
class NumberChange:
    """One computed number before and after; None is not known, or was not there."""

    label: str
    unit: str
    old: Estimate | None
    new: Estimate | None


@dataclass(frozen=True)
class FileChange:
    """One file that is new, changed or deleted, with what that means for a setup.

    `lines` are the runs of new or changed lines. `fields` is empty for a new file; `computed` holds
    all numbers of a new setup, and the changed ones of an old one. `flag` and `word` are those
    after the change, None and "" where there are none. `compared` are the gaps of a setup beside
    what the other records expect.
    """

    path: str
    kind: str
    title: str
    lines: tuple[tuple[int, int], ...]
    fields: tuple[FieldChange, ...]
    computed: tuple[NumberChange, ...]
    flag: RecordFlag | None
    word: str
    asks: tuple[str, ...]
    compared: tuple[Compared, ...] = ()


@dataclass(frozen=True)
class Pages:
    """Addresses of pages that come, change and go."""

    added: tuple[str, ...]
    changed: tuple[str, ...]
    removed: tuple[str, ...]


@dataclass(frozen=True)
class Review:
    """What a change of the records changes in the guide."""

    base: str
    head: str
    errors: tuple[Fault, ...]
    remarks: tuple[Fault, ...]
    """Warnings and notes that were not there before."""
    mended: int
    limits: tuple[LimitMove, ...]
    flips: tuple[Flip, ...]
    chances: tuple[ChanceMove, ...]
    doubts: tuple[Doubt, ...]
    flags: tuple[FlagMove, ...]
    duplicates: tuple[Duplicate, ...]
    coverage: tuple[Coverage, ...]
    pages: Pages
    files: tuple[FileChange, ...]
    recomputed: tuple[str, ...]
    """Setups whose own record stands as it was and whose computed numbers change all the same."""
    outside: tuple[str, ...]
    """Files outside the content folder that the change touches: not judged here."""

    @property
    def changes_numbers(self) -> bool:
        """Whether any number, verdict or flag that a reader sees changes."""
        return bool(
            self.limits
            or self.flips
            or self.chances
            or self.doubts
            or self.flags
            or self.coverage
            or self.recomputed
            or any(each.computed or _is_gone(each) for each in self.files)
        )


def review(old: Edition, new: Edition, *, outside: tuple[str, ...] = ()) -> Review:
    """Compare two states of the records."""
    doubted = doubts(old, new)
    known = {_sense(fault) for fault in old.faults}
    fresh = tuple(fault for fault in new.faults if _sense(fault) not in known)
    gone = {_sense(fault) for fault in new.faults}
    return Review(
        base=old.name,
        head=new.name,
        errors=new.errors(),
        remarks=tuple(fault for fault in fresh if fault not in new.errors()),
        mended=sum(_sense(fault) not in gone for fault in old.faults),
        limits=limit_moves(old, new),
        flips=flips(old, new),
        chances=chance_moves(old, new),
        doubts=doubted,
        flags=flag_moves(old, new),
        duplicates=duplicates(old, new),
        coverage=coverage(old, new),
        pages=_pages(old, new),
        files=tuple(_files(old, new, doubted)),
        recomputed=tuple(_recomputed(old, new)),
        outside=outside,
    )


def _sense(fault: Fault) -> tuple[str, str, str]:
    """Tell faults apart by what they say, so that a moved line does not make a new one."""
    return (fault.place.path, fault.code, fault.headline)


def _pages(old: Edition, new: Edition) -> Pages:
    before, after = old.pages.addresses(), new.pages.addresses()
    both = sorted(before & after)
    changed = tuple(path for path in both if old.pages.differs(new.pages, path))
    return Pages(tuple(sorted(after - before)), changed, tuple(sorted(before - after)))


def _files(old: Edition, new: Edition, doubted: tuple[Doubt, ...]) -> Iterator[FileChange]:
    for path in sorted(old.texts.keys() | new.texts.keys()):
        before, after = old.texts.get(path), new.texts.get(path)
        if before == after:
            continue
        kind = "new" if before is None else "deleted" if after is None else "changed"
        yield _file(path, kind, old, new, doubted=doubted)


def _file(
    path: str, kind: str, old: Edition, new: Edition, *, doubted: tuple[Doubt, ...]
) -> FileChange:
    first, second = _source(old, path), _source(new, path)
    fields = field_changes(first, second) if first and second else ()
    name = setup_id(path)
    lines = changed_lines(old.texts.get(path), new.texts[path]) if path in new.texts else ()
    setup = new.setups().get(name) if name else None
    if name is None or new.guide is None or setup is None:
        gone = old.setups().get(name) if name else None
        return FileChange(
            path, kind, gone.value.title if gone else "", lines, fields, (), None, "", ()
        )
    confidence, verdict = new.guide.confidence.get(name), new.guide.verdicts.get(name)
    before = old.guide.assessments.get(name) if old.guide else None
    return FileChange(
        path=path,
        kind=kind,
        title=setup.value.title,
        lines=lines,
        fields=fields,
        computed=_computed(before, new.guide.assessments.get(name)),
        flag=confidence.flag if confidence else None,
        word=word(verdict) if verdict else "",
        asks=asks(setup, new, doubted),
        compared=compared(name, new),
    )


def _is_gone(change: FileChange) -> bool:
    return change.kind == "deleted" and setup_id(change.path) is not None


def _recomputed(old: Edition, new: Edition) -> Iterator[str]:
    before, after = old.setups(), new.setups()
    for name in sorted(before.keys() & after.keys()):
        first = old.guide.assessments.get(name) if old.guide else None
        second = new.guide.assessments.get(name) if new.guide else None
        is_own = before[name].source.text != after[name].source.text
        # A remembered assessment is the very same object, and needs no second look.
        if not is_own and first is not second and first and _computed(first, second):
            yield name


def _source(edition: Edition, path: str) -> SourceFile | None:
    if edition.guide is None:
        return None
    library = edition.guide.library
    if path == "club.yaml":
        return library.club.source if library.club else None
    name = setup_id(path)
    if name is not None:
        return library.setups[name].source if name in library.setups else None
    sheet = library.chassis.get(path.removeprefix("chassis/").removesuffix(".yaml"))
    return sheet.source if sheet and sheet.source.path == path else None


def _computed(old: Assessment | None, new: Assessment | None) -> tuple[NumberChange, ...]:
    if new is None:
        return ()
    before = {each.name: each for each in numbers(old)} if old else {}
    return tuple(
        NumberChange(_label(each), each.unit, _before(before, each), each.estimate)
        for each in numbers(new)
        if ".stock." not in each.name and _differs(_before(before, each), each.estimate)
    )


def _before(before: dict[str, Named], named: Named) -> Estimate | None:
    return before[named.name].estimate if named.name in before else None


def _differs(old: Estimate | None, new: Estimate | None) -> bool:
    if old is None or new is None:
        return old is not new
    return not (abs(old.value - new.value) < STEP and abs(old.u - new.u) < STEP)


def _label(named: Named) -> str:
    return f"{named.name.split('.', 1)[0]}: {named.label}"
