"""Two states of the records side by side: from files or from git's objects to a review."""

from datetime import date
from pathlib import Path

from generator.build import guide_of
from generator.memory import Memory
from generator.reading.fault import Fault
from generator.reading.folder import Found, content_files
from generator.reading.trouble import GuideError
from generator.records.checking import check
from generator.records.collect import collect
from generator.review.edition import Edition
from generator.review.repository import Repository
from generator.review.review import Review, review
from generator.site.plan import plan


def edition(
    name: str,
    files: tuple[Found, ...],
    odd: tuple[Fault, ...],
    *,
    today: date,
    memory: Memory,
) -> Edition:
    """Compute one state of the records. Setups with errors are left out of its guide."""
    collected = collect(files)
    faults = {
        *odd,
        *collected.faults,
        *check(collected.library, today=today, of_case=memory.faults),
    }
    ordered = tuple(sorted(faults, key=lambda fault: fault.order))
    texts = {file.path: file.content for file in files}
    if collected.library.club is None:
        return Edition(name, texts, ordered, None, {})
    guide = guide_of(collected, ordered, memory)
    return Edition(name, texts, ordered, guide, {page.path: page for page in plan(guide)})


def review_of(content: Path, base: str, head: str | None, *, today: date) -> tuple[Review, str]:
    """Compare a revision with the working tree, or with another revision merged into it.

    Gives the review, and the path of the content folder below the repository's top. Raises
    GuideError if there is no such revision, no repository, or nothing to compare.
    """
    repository = Repository(content)
    start = repository.commit(base)
    before = repository.snapshot(start)
    outside: tuple[str, ...] = ()
    if head is None:
        files, odd = content_files(content)
        name = "the working tree"
    else:
        tree = repository.merged(start, repository.commit(head))
        after = repository.snapshot(tree)
        files, odd = after.files, after.odd
        outside = repository.outside(start, tree)
        name = f"{head}, merged"
    if not files:
        raise GuideError("there are no records to compare")
    first = Memory()
    old = edition(base, before.files, before.odd, today=today, memory=first)
    new = edition(name, files, odd, today=today, memory=Memory(first))
    return review(old, new, outside=outside), repository.prefix
