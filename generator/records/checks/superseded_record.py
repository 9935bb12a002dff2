"""A record says that it replaces a record that is not there, or not of the same car."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Filed, Library
from generator.records.names import expecting
from generator.records.rule import Rule, marked
from generator.records.setup import Setup

RULE = Rule(
    code="L06",
    title="a record that replaces what it cannot",
    severity=Severity.ERROR,
    why="A replaced record no longer counts, so that the two must be about one car, and none can "
    "replace itself, even by a detour.",
    mend="Write the file name, without the ending, of an older record of the same car and chassis, "
    "or leave the field out.",
    source="own rule of the guide",
    bad="setup: {supersedes: fernhollow-seven-inch}\nother: {}",
    good="setup: {supersedes: fernhollow-seven-inch}\n"
    "other: {car: copperbill-coupe, date: 2025-05-01}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Follow each record to the one that it replaces."""
    for setup in library.setups.values():
        name = setup.value.supersedes
        if name is None:
            continue
        folder = setup.id.rsplit("/", 1)[0]
        older = library.setups.get(f"{folder}/{name}")
        if older is None:
            if f"setups/{folder}/{name}.yaml" not in library.unread:
                yield _unknown(library, setup, folder)
        elif older.value.car != setup.value.car:
            yield RULE.fault(
                setup.place("supersedes"),
                f"`{name}` is about the car `{older.value.car}`, this record about "
                f"`{setup.value.car}`",
                expected="a record of the same car",
                fix="leave `supersedes` out, or mend `car` in one of the two",
                also=(marked(older, "the other car", "car"),),
            )
        elif _leads_back(library, setup, folder):
            yield RULE.fault(
                setup.place("supersedes"),
                "this record replaces itself" if older is setup else f"`{name}` leads back here",
                expected="an older record, each replaced by one that is newer",
                fix="leave `supersedes` out of the older of the two",
            )


def _unknown(library: Library, setup: Filed[Setup], folder: str) -> Fault:
    beside = [id_.rsplit("/", 1)[-1] for id_ in library.setups if id_.startswith(f"{folder}/")]
    others = [name for name in beside if f"{folder}/{name}" != setup.id]
    expected, near = expecting(str(setup.value.supersedes), others)
    return RULE.fault(
        setup.place("supersedes"),
        f"there is no record `{setup.value.supersedes}` of this chassis",
        expected=expected or "a record of the same chassis",
        fix=f"write `supersedes: {near}`" if near else "leave `supersedes` out",
    )


def _leads_back(library: Library, setup: Filed[Setup], folder: str) -> bool:
    seen: set[str] = set()
    here: Filed[Setup] | None = setup
    while here is not None and here.value.supersedes is not None:
        step = f"{folder}/{here.value.supersedes}"
        if step == setup.id:
            return True
        if step in seen:
            return False
        seen.add(step)
        here = library.setups.get(step)
    return False
