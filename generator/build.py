"""The path of a record, from a member's file to the published guide: eight steps, one way."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from functools import partial
from hashlib import sha256
from pathlib import Path

from generator.assessment.assess import Assessment, assess
from generator.evidence.club import ChassisEvidence, learn_chassis
from generator.evidence.confidence import record_confidence
from generator.evidence.verdict import verdict
from generator.memory import Memory
from generator.quantities.units import disagreements
from generator.reading.fault import Fault, Severity, has_error
from generator.reading.folder import Found, content_files
from generator.reading.history import history_of
from generator.reading.photos import PhotoFile, photo_files
from generator.reading.report import summary
from generator.reading.trouble import GuideError
from generator.records.chassis import Chassis
from generator.records.checking import check
from generator.records.collect import Collected, collect
from generator.records.library import Filed, Library
from generator.records.setup import Setup
from generator.rendering.filters import long_date
from generator.rendering.output import Written, recover_site, write_site
from generator.rendering.photos import photo_artifacts
from generator.rendering.render import render
from generator.site.guide import Guide, Input
from generator.site.plan import plan, plan_files


@dataclass(frozen=True)
class Built:
    """What came of a build: all faults, and one line to tell."""

    faults: tuple[Fault, ...]
    has_errors: bool
    told: str


def build(content: Path, out: Path, *, leave_out_faulty: bool, today: date) -> Built:
    """Build the guide of a content folder into a folder.

    An error in any file ends the build before anything is written, unless faulty setups are left
    out. Raises GuideError if the guide cannot be made or written.
    """
    if disagreements():
        raise GuideError(f"the factors of {', '.join(disagreements())} are not those of pint")
    recover_site(out, source=content)
    files, odd = content_files(content)
    photos, unfit = photo_files(content)
    collected = collect(files, photos)
    faults = (*odd, *unfit, *collected.faults, *check(collected.library, today=today))
    faults = tuple(sorted(set(faults), key=lambda fault: fault.order))
    errors = has_error(faults)
    if errors and not (leave_out_faulty and _only_setups(faults)):
        told = f"{summary(faults, collected.files)}; nothing was written"
        return Built(faults, True, told)
    guide = replace(
        guide_of(collected, faults),
        inputs=inputs_of(files, photos),
        history=history_of(content, files),
    )
    pages = plan(guide)
    pictures = photo_artifacts(content, guide)
    artifacts = render(guide, pages, plan_files(guide, pages), pictures)
    written = write_site(artifacts, out, source=content)
    return Built(faults, errors, _told(collected, faults, written, out))


def inputs_of(files: Iterable[Found], photos: Iterable[PhotoFile] = ()) -> tuple[Input, ...]:
    """Say what each file of the content folder was when the guide was made."""
    texts = (
        Input(file.path, len(file.content), sha256(file.content).hexdigest()) for file in files
    )
    return (*texts, *(Input(photo.path, photo.size, photo.sha256) for photo in photos))


def guide_of(
    collected: Collected, faults: tuple[Fault, ...], memory: Memory | None = None
) -> Guide:
    """Compute the guide: each setup on its chassis, without the setups that have errors.

    `memory` spares what an earlier state of the records had computed already.
    """
    memory = memory or Memory()
    faulty = {fault.place.path for fault in faults if fault.severity is Severity.ERROR}
    whole = collected.library
    setups = {
        name: setup for name, setup in whole.setups.items() if setup.source.path not in faulty
    }
    library = Library(whole.club, whole.chassis, setups, whole.articles, photos=whole.photos)
    if library.club is None:
        raise GuideError("the content folder has no club.yaml that can be read")
    assessments: dict[str, Assessment] = {
        case.setup.id: memory.assessment(case, partial(assess, case))
        for case in library.cases()
        if case.chassis is not None
    }
    evidence = {
        name: _learned(library.chassis[name], library, assessments, memory=memory)
        for name in library.chassis
    }
    cases = [case for case in library.cases() if case.setup.id in assessments]
    verdicts = {
        case.setup.id: memory.verdict(
            case,
            _by_name(library, case.setup.value.chassis),
            partial(verdict, assessments[case.setup.id], evidence[case.setup.value.chassis]),
        )
        for case in cases
    }
    confidence = {
        case.setup.id: record_confidence(case.setup, evidence[case.setup.value.chassis], faults)
        for case in cases
    }
    newest = max((setup.value.date for setup in setups.values()), default=None)
    return Guide(
        club=library.club.value,
        library=library,
        assessments=assessments,
        evidence=evidence,
        verdicts=verdicts,
        confidence=confidence,
        faults=faults,
        left_out=tuple(sorted(faulty)),
        data_as_of=long_date(newest) if newest else "no records yet",
    )


def _by_name(library: Library, chassis: str) -> dict[str, Filed[Setup]]:
    return {setup.id: setup for setup in library.of_chassis(chassis)}


def _learned(
    chassis: Filed[Chassis],
    library: Library,
    assessments: dict[str, Assessment],
    *,
    memory: Memory,
) -> ChassisEvidence:
    setups = {
        name: setup for name, setup in _by_name(library, chassis.id).items() if name in assessments
    }
    with_numbers = {name: (setup, assessments[name]) for name, setup in setups.items()}
    return memory.evidence(chassis, setups, partial(learn_chassis, chassis, with_numbers))


def _only_setups(faults: tuple[Fault, ...]) -> bool:
    return all(
        fault.place.path.startswith(("setups/", "photos/"))
        for fault in faults
        if fault.severity is Severity.ERROR
    )


def _told(collected: Collected, faults: tuple[Fault, ...], written: Written, out: Path) -> str:
    kept = f"; {len(written.foreign)} other files kept" if written.foreign else ""
    return (
        f"{summary(faults, collected.files)}; {written.files} files in {out} "
        f"({written.changed} changed, {written.removed} removed){kept}"
    )
