"""The nuts or bolts have another thread or form than the hub, and nothing was said of a change."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.fitted import Hardware
from generator.records.joint import has_bolt_on_spacer
from generator.records.library import Case
from generator.records.rule import Rule, marked
from generator.records.words import Axle, Fixing, NutForm

RULE = Rule(
    code="R44",
    title="a thread that is not the car's",
    severity=Severity.WARNING,
    why="A nut of another thread can be forced on by two turns and strips under load. Studs can be "
    "changed, and then the record must say so, since others would buy the wrong nuts.",
    mend="Check the pitch with a gauge; write `studs_changed` if the car has others.",
    source="common practice",
    bad="setup: {front: {hardware: {thread: M12x1.25}}}",
    good="setup: {front: {hardware: {thread: M12x1.25, turns: 14.5,"
    " studs_changed: all four with M12x1.25}}}",
)


def check(case: Case) -> Iterator[Fault]:
    """Compare the hardware of both ends with the sheet."""
    for axle, fitted, sheet in case.axles():
        hardware = fitted.hardware
        if sheet is None or hardware is None or hardware.studs_changed is not None:
            continue
        if has_bolt_on_spacer(fitted):
            continue
        thread = sheet.fastening.thread
        if hardware.thread != thread:
            yield _fault(
                case,
                axle,
                "thread",
                f"`{hardware.thread}` is not the hub's `{thread}`",
                f"{thread}",
            )
        elif _is_other_form(hardware, sheet.fastening.fixing):
            has = "studs" if sheet.fastening.fixing is Fixing.STUDS else "threaded holes for bolts"
            said = hardware.nut.value if hardware.nut else ""
            expected = "closed" if sheet.fastening.fixing is Fixing.STUDS else "bolt"
            yield _fault(case, axle, "nut", f"`{said}` does not go with a hub that has {has}",
                         expected)  # fmt: skip


def _is_other_form(hardware: Hardware, fixing: Fixing) -> bool:
    if hardware.nut is None:
        return False
    return (hardware.nut is NutForm.BOLT) != (fixing is Fixing.BOLTS)


def _fault(case: Case, axle: Axle, field: str, headline: str, expected: str) -> Fault:
    assert case.chassis is not None
    sheet_field = "thread" if field == "thread" else "fixing"
    return RULE.fault(
        case.setup.place(axle.value, "hardware", field),
        headline,
        expected=f"`{expected}`, or a word on changed studs",
        fix=f"write `{field}: {expected}`, or add `studs_changed: …`",
        also=(marked(case.chassis, "the car's", axle.value, "fastening", sheet_field),),
    )
