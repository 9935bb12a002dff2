"""The words of one setup that Find looks through: all that was written, and names of what it is."""

from collections.abc import Iterator

from generator.records.fitted import AxleSetup
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.site.guide import Guide
from generator.site.synonyms import alike


def search_text(guide: Guide, filed: Filed[Setup]) -> str:
    """Give all words of a setup, made alike; they keep their order, so that phrases are found."""
    return alike(" ".join(_written(guide, filed)))


def _written(guide: Guide, filed: Filed[Setup]) -> Iterator[str]:
    setup = filed.value
    yield from (setup.title, setup.member, setup.car.replace("-", " "), setup.variant or "")
    chassis = guide.library.chassis.get(setup.chassis)
    if chassis is not None:
        yield from (chassis.value.name, *chassis.value.also_called)
    for end in (setup.front, setup.rear):
        yield from _end(end)
    for rub in setup.rubs:
        yield from (rub.site.replace("-", " "), rub.when, rub.remedy or "")
    for remedy in setup.remedies:
        yield from (remedy.kind.value, remedy.amount or "", remedy.spoiled or "")
    for gap in setup.gaps:
        yield gap.note or ""
    yield from setup.not_checked
    for dispute in setup.disputes:
        yield dispute.claim
    yield setup.notes or ""


def _end(end: AxleSetup) -> Iterator[str]:
    size = str(end.wheel.size)
    yield from (size, size.replace(" ", ""), end.tyre.size.designation)
    if end.wheel.material is not None:
        yield end.wheel.material.value
    if end.spacer is not None:
        yield f"{end.spacer.kind.value} spacer"
    if end.bodywork is not None and end.bodywork.lips is not None:
        yield f"lips {end.bodywork.lips.value}"
