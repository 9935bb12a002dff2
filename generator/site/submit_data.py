"""What the page for submitting a record loads: fields, rules, and each chassis sheet as written."""

import hashlib
from collections.abc import Iterable, Iterator, Mapping

from generator.cache.once import Once
from generator.frozen import dataclass
from generator.reading.pruning import plain
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.site import urls
from generator.site.data.writing import json_text
from generator.site.facets import RANGES, End, Trait
from generator.site.guide import Guide
from generator.site.page import DataFile
from generator.site.starter import LATER, starter
from generator.site.translated.definitions import models, units
from generator.site.translated.program import live_rules, script

_DIGITS = 10
_STARTS = ("chassis", "variant", "front", "rear")
"""What a record may take over from another: what is fitted, never what was measured of gaps."""


@Once
def rules_file() -> DataFile:
    """Give the script of the rules, under a name that changes with it."""
    text = script()
    digest = hashlib.sha256(text.encode("utf-8")).hexdigest()[:_DIGITS]
    return DataFile(urls.submit_file(f"rules.{digest}.js"), text)


@dataclass(frozen=True)
class Known:
    """What a chassis tells a member who types: cars, members, and the ids that are taken."""

    cars: tuple[str, ...]
    members: tuple[str, ...]
    taken: tuple[str, ...]


def fields_file(known: Iterable[Known]) -> DataFile:
    """Give the fields of a record, with the members and cars that the guide knows already."""
    every = tuple(known)
    cars = sorted({car for each in every for car in each.cars})
    members = sorted({member for each in every for member in each.members})
    content = {
        "models": models(),
        "units": units(),
        "later": list(LATER),
        "cars": cars,
        "members": members,
        "taken": sorted(name for each in every for name in each.taken),
        "rules": [code for code, _ in live_rules()],
    }
    return DataFile(urls.submit_file("fields.json"), json_text(content))


def near_file(found: Iterable[Trait]) -> DataFile:
    """Give the numbers of all setups, in their order, that a new one is compared with."""
    places = [at for at, each in enumerate(RANGES) if each.key in ("width", "offset", "diameter")]

    def numbers(end: End) -> list[float | None]:
        return [end.numbers[at] for at in places]

    near = [
        {"id": each.id, "title": each.title, "ends": [numbers(each.front), numbers(each.rear)]}
        for each in found
    ]
    return DataFile(urls.submit_file("near.json"), json_text(near))


def start_files(setup: Filed[Setup]) -> Iterator[DataFile]:
    """Give what is fitted in a record as it was typed, for a record that starts from it."""
    written = plain(setup.source.root)
    if isinstance(written, Mapping):
        kept = {name: written[name] for name in _STARTS if name in written}
        yield DataFile(urls.submit_file(f"from/{setup.id}.json"), json_text(kept))


def chassis_files(guide: Guide) -> Iterator[DataFile]:
    """Give each sheet as its club typed it, and a record to begin with."""
    for chassis in guide.chassis():
        sheet = plain(chassis.source.root)
        yield DataFile(urls.submit_file(f"{chassis.id}.json"), json_text(sheet))
        yield DataFile(urls.submit_file(f"{chassis.id}.yaml"), starter(chassis))
