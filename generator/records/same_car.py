"""Records of one car in the order in which they were measured."""

from collections import defaultdict
from collections.abc import Iterator

from generator.records.library import Case, Library


def with_earlier(library: Library) -> Iterator[tuple[Case, tuple[Case, ...]]]:
    """Give each record with the earlier ones of the same car and chassis, latest first.

    Records that were withdrawn or replaced by a later one are left out.
    """
    cars: dict[tuple[str, str], list[Case]] = defaultdict(list)
    for case in library.cases():
        if case.setup.value.withdrawn is None:
            cars[case.setup.value.chassis, case.setup.value.car].append(case)
    for cases in cars.values():
        replaced = {case.setup.value.supersedes for case in cases}
        kept = [case for case in cases if case.setup.id.rpartition("/")[2] not in replaced]
        kept.sort(key=lambda case: (case.setup.value.date, case.setup.id))
        for at, case in enumerate(kept):
            if at:
                yield case, tuple(reversed(kept[:at]))
