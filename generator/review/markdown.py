"""The report for a pull request, in Markdown: consequences first, then record by record."""

from collections.abc import Iterator

from generator.reading.fault import Fault
from generator.rendering.filters import percent
from generator.review.decision import decision
from generator.review.escaping import cell, code, words
from generator.review.figures import both, limits, place_name
from generator.review.movement import LITTLE, LimitMove
from generator.review.records import file_section, heading
from generator.review.review import Review
from generator.review.tables import MOST_ROWS, SAMPLE, bullets, sampled, table

LARGEST = 1024 * 1024
"""Bytes; the most that a forge takes as the summary of one step."""

_CUT = "\n\nThe report is cut here, for its size. `gapbook review` with `--format json` has all.\n"
_MOST_NAMES = 4


def as_markdown(review: Review) -> str:
    """Write the report; never more than a forge takes."""
    parts = [part for part in _parts(review) if part]
    text = "\n\n".join(parts) + "\n"
    if len(text.encode()) <= LARGEST:
        return text
    kept, size = [], len(_CUT.encode())
    for part in parts:
        size += len(part.encode()) + 2
        if size > LARGEST:
            break
        kept.append(part)
    return "\n\n".join(kept) + _CUT


def _parts(review: Review) -> Iterator[str]:
    yield f"# What changes from {code(review.base)} to {code(review.head)}"
    yield _decision(review)
    yield _errors(review)
    yield _summary(review)
    yield _outside(review)
    yield _limits(review)
    yield _flips(review)
    yield _doubts(review)
    yield _flags(review)
    yield _duplicates(review)
    yield _coverage(review)
    yield _remarks(review)
    yield from _files(review)
    yield _chances(review)
    yield _pages(review)


def _decision(review: Review) -> str:
    """Say what to do and why; who reads no further knows it."""
    found = decision(review)
    rows = [words(each) for each in found.reasons[:MOST_ROWS]]
    parts = [f"## {found.call.value}", bullets(rows, len(found.reasons))]
    if found.asks:
        asks = [words(each) for each in found.asks]
        parts += ["To ask, in this order:", bullets(asks, len(asks))]
    return "\n\n".join(parts)


def _errors(review: Review) -> str:
    if not review.errors:
        return ""
    rows = [_fault(fault) for fault in review.errors[:MOST_ROWS]]
    count = len(review.errors)
    title = f"## {count} error{'' if count == 1 else 's'}: this cannot be published yet"
    left_out = "Setups with errors are left out of everything below."
    return f"{title}\n\n{bullets(rows, count)}\n\n{left_out}"


def _fault(fault: Fault) -> str:
    fix = f" Fix: {words(fault.fix)}." if fault.fix else ""
    expected = f" Expected: {words(fault.expected)}." if fault.expected else ""
    where = f"{code(fault.place.path)} line {fault.place.line}, column {fault.place.column}"
    return f"{where} [{fault.code}]: {words(fault.headline)}.{expected}{fix}"


def _summary(review: Review) -> str:
    kinds = dict.fromkeys(("new", "changed", "deleted"), 0)
    for each in review.files:
        kinds[each.kind] += 1
    counts = ", ".join(f"{count} {kind}" for kind, count in kinds.items() if count)
    lines = [f"Files: {counts or 'none differs'}."]
    if not review.changes_numbers:
        lines.append("**No published number changes.**")
    if review.recomputed:
        names = ", ".join(code(name) for name in review.recomputed[:_MOST_NAMES])
        more = len(review.recomputed) - _MOST_NAMES
        rest = f" and {more} more" if more > 0 else ""
        lines.append(f"Computed anew though their records stand as they were: {names}{rest}.")
    if review.mended:
        is_one = review.mended == 1
        lines.append(f"{review.mended} earlier fault{' is' if is_one else 's are'} gone.")
    return "\n\n".join(lines)


def _outside(review: Review) -> str:
    if not review.outside:
        return ""
    rows = [code(path) for path in review.outside[:MOST_ROWS]]
    said = (
        "These are not data. They were neither run nor used for this report, which the published "
        "program made; a maintainer has to read them as code."
    )
    return (
        f"## {len(review.outside)} files outside the content folder\n\n{said}\n\n"
        f"{bullets(rows, len(review.outside))}"
    )


def _limits(review: Review) -> str:
    if not review.limits:
        return ""
    large = [move for move in review.limits if move.is_large] or list(review.limits[:_MOST_NAMES])
    rows = [_limit(move) for move in large[:MOST_ROWS]]
    said = (
        "Room that the next car has beyond what its sheet says: middle value, and the range in "
        "which nine cars in ten lie."
    )
    head = ("chassis", "site", "before", "after", "moved by", "because of")
    parts = ["## Limits that move", said, table(head, rows, len(large))]
    rest = len(review.limits) - len(large)
    if rest:
        parts.append(f"{rest} more move by less than {both(LITTLE)} and keep their flag.")
    return "\n\n".join(parts)


def _limit(move: LimitMove) -> tuple[str, ...]:
    key = move.key
    state = "" if key.condition.value == "stock" else f", {key.condition.value}"
    site = f"{key.axle.value} {cell(move.label)} {key.side.value}{state}"
    is_moved = move.old is not None and move.new is not None
    shift = both(move.shift, is_signed=True) if is_moved else "—"
    causes = [cell(name) for name in move.causes[:_MOST_NAMES]]
    if len(move.causes) > _MOST_NAMES:
        causes.append(f"{len(move.causes) - _MOST_NAMES} more")
    if move.by_sheet:
        causes.insert(0, "the chassis sheet")
    return (
        cell(move.chassis), site,
        f"{limits(move.old)}, {move.old_flag.value}",
        f"{limits(move.new)}, {move.new_flag.value}",
        shift, ", ".join(causes) or "the program",
    )  # fmt: skip


def _flips(review: Review) -> str:
    if not review.flips:
        return ""
    rows = []
    for flip in review.flips[:MOST_ROWS]:
        site = (
            f"{flip.axle} {cell(flip.label)} {flip.side}" if flip.label else "**the whole setup**"
        )
        own = "its own record" if flip.is_own else "other records"
        rows.append((cell(flip.setup), site, flip.old, f"**{flip.new}**", own))
    head = ("setup", "where", "was", "is now", "because of")
    return f"## Verdicts that flip\n\n{table(head, rows, len(review.flips))}"


def _doubts(review: Review) -> str:
    if not review.doubts:
        return ""
    rows = []
    for each in review.doubts[:MOST_ROWS]:
        site = place_name(each.axle, code(each.label), each.side)
        if each.is_new:
            low, high = both(each.expected_low), both(each.expected_high)
            rows.append(
                f"{code(each.setup)} looks wrong at {site}, {words(each.pose)}: off by "
                f"{both(abs(each.off_by))}; the others expect a gap of {low} to {high}"
            )
        else:
            rows.append(f"{code(each.setup)} no longer looks wrong at {site}")
    return f"## Records in doubt\n\n{bullets(rows, len(review.doubts))}"


def _flags(review: Review) -> str:
    if not review.flags:
        return ""
    rows = [
        (cell(each.setup), each.old.value, f"**{each.new.value}**", words(each.reason))
        for each in review.flags[:MOST_ROWS]
    ]
    head = ("setup", "was", "is now", "because")
    return f"## Flags raised or lowered\n\n{table(head, rows, len(review.flags))}"


def _duplicates(review: Review) -> str:
    if not review.duplicates:
        return ""
    rows = []
    for each in review.duplicates[:MOST_ROWS]:
        car = "the same car" if each.same_car else "another car"
        differ = ", ".join(code(where) for where in each.differ) or "nothing"
        rows.append(
            f"{code(each.setup)} is {percent(each.alike)} the same as {code(each.other)} ({car}); "
            f"they differ in {differ}"
        )
    return f"## Near duplicates\n\n{bullets(rows, len(review.duplicates))}"


def _coverage(review: Review) -> str:
    if not review.coverage:
        return ""
    rows = []
    for each in review.coverage[:MOST_ROWS]:
        site = f"{code(each.chassis)} {each.axle} {code(each.label)}"
        names = ", ".join(code(name) for name in each.records[:_MOST_NAMES])
        said = "has its first record" if each.is_gained else "has lost its last record"
        rows.append(f"{site} {said}: {names}")
    return f"## Coverage\n\n{bullets(rows, len(review.coverage))}"


def _remarks(review: Review) -> str:
    if not review.remarks:
        return ""
    ordered = sorted(review.remarks, key=lambda fault: (fault.severity.rank, fault.order))
    rows = [f"{fault.severity.value}: {_fault(fault)}" for fault in ordered[:MOST_ROWS]]
    return f"## What the rules ask\n\n{bullets(rows, len(ordered))}"


def _files(review: Review) -> Iterator[str]:
    if not review.files:
        return
    drawn = sampled(review.files, lambda each: each.path)
    yield "## File by file"
    if len(drawn) < len(review.files):
        yield (
            f"Shown are {len(drawn)} of {len(review.files)} files, drawn by lot; the lot follows "
            f"from the names of all of them. Samples have {SAMPLE} files."
        )
    for each in drawn:
        yield f"{heading(each)}\n\n{file_section(each)}".rstrip()


def _chances(review: Review) -> str:
    if not review.chances:
        return ""
    rows = [
        (cell(each.setup), percent(each.old), percent(each.new))
        for each in review.chances[:MOST_ROWS]
    ]
    head = ("setup", "was", "is now")
    title = "## Chance that everything clears on the next car"
    return f"{title}\n\n{table(head, rows, len(review.chances))}"


def _pages(review: Review) -> str:
    pages = review.pages
    lines = ["## Pages touched"]
    for label, paths in (
        ("new", pages.added),
        ("changed", pages.changed),
    ):
        if paths:
            names = ", ".join(code(path) for path in paths[:MOST_ROWS])
            more = len(paths) - MOST_ROWS
            lines.append(f"{len(paths)} {label}: {names}{f' and {more} more' if more > 0 else ''}.")
    if pages.removed:
        names = ", ".join(code(path) for path in pages.removed[:MOST_ROWS])
        count = "One address" if len(pages.removed) == 1 else f"{len(pages.removed)} addresses"
        lines.append(
            f"**{count} would end:** {names}. An address that was published "
            "should never die: a record that no longer counts is withdrawn, with its reason, and a "
            "file that was renamed is named under `moved` in `club.yaml`."
        )
    return "\n\n".join(lines) if len(lines) > 1 else "No page changes."
