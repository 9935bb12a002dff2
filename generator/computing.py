"""From records to a guide: each setup on its chassis, and what they say together."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import partial
from hashlib import sha256

from generator.assessment.assess import Assessment, assess
from generator.evidence.club import ChassisEvidence, learn_chassis
from generator.evidence.confidence import record_confidence
from generator.evidence.verdict import Verdict, all_numbers, verdict
from generator.memory import Memory
from generator.reading.fault import Fault, Severity
from generator.reading.folder import Found
from generator.reading.photos import PhotoFile
from generator.reading.trouble import GuideError
from generator.records.chassis import Chassis
from generator.records.collect import Collected
from generator.records.library import Case, Filed, Library, setup_path
from generator.records.setup import Setup
from generator.records.words import Axle
from generator.rendering.filters import long_date
from generator.site.guide import Guide, Input


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
    return computed(frame_of(collected.library, faults), faults, memory)


def frame_of(whole: Library, faults: tuple[Fault, ...]) -> Guide:
    """Give the guide without the setups that have errors, and with nothing computed yet."""
    faulty = {fault.place.path for fault in faults if fault.severity is Severity.ERROR}
    if whole.club is None:
        raise GuideError("the content folder has no club.yaml that can be read")
    kept = whole.with_setups(name for name in whole.setups if setup_path(name) not in faulty)
    newest = max((each.day for each in kept.listed.values()), default=None)
    return Guide(
        club=whole.club.value,
        library=replace(kept, unread=frozenset()),
        assessments={},
        evidence={},
        verdicts={},
        confidence={},
        faults=faults,
        left_out=tuple(sorted(faulty)),
        data_as_of=f"{long_date(newest)} (newest record)" if newest else "no records yet",
        records=len(kept.setups),
    )


def computed(frame: Guide, faults: tuple[Fault, ...], memory: Memory | None = None) -> Guide:
    """Compute a guide, or a guide of one chassis; `faults` are those of its files."""
    memory, library = memory or Memory(), frame.library
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
    known = {name: "".join(map(each.known, Axle)) for name, each in evidence.items()}
    judge = partial(_judged, assessments=assessments, evidence=evidence, known=known, memory=memory)
    verdicts = {
        case.setup.id: memory.verdict(
            case, _by_name(library, case.setup.value.chassis), partial(judge, case)
        )
        for case in cases
    }
    confidence = {
        case.setup.id: record_confidence(
            case.setup,
            evidence[case.setup.value.chassis],
            faults,
            assessments[case.setup.id].findings,
        )
        for case in cases
    }
    return replace(
        frame,
        assessments=assessments,
        evidence=evidence,
        verdicts=verdicts,
        confidence=confidence,
    )


def _judged(
    case: Case,
    *,
    assessments: Mapping[str, Assessment],
    evidence: Mapping[str, ChassisEvidence],
    known: Mapping[str, str],
    memory: Memory,
) -> Verdict:
    computed, learned = assessments[case.setup.id], evidence[case.setup.value.chassis]
    make = partial(all_numbers, computed, learned)
    return verdict(computed, learned, memory.numbers(case, known[case.setup.value.chassis], make))


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
