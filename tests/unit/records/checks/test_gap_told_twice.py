"""Row 38: a record that contradicts itself about one gap is refused, with both lines shown."""

import pytest

from generator.reading.fault import Fault, Severity
from generator.records.examples import example_faults


def faults(*gaps: str) -> list[Fault]:
    listed = ", ".join(f"{{site: strut-tube, {gap}}}" for gap in gaps)
    found = example_faults(f"setup:\n  gaps: [{listed}]")
    return [fault for fault in found if fault.code == "R50"]


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("side: left, state: static, gap: clears", "side: left, state: static, gap: touches"),
        ("side: both, state: static, gap: touches", "side: right, state: static, gap: clears"),
        (
            "side: left, state: static, gap: more than 1 mm",
            "side: left, state: static, gap: touches",
        ),
        ("side: left, state: static, gap: 9 mm", "side: both, state: static, gap: 19 mm"),
        ("side: left, state: static, gap: 9 mm", "side: left, state: static, gap: 20 to 22 mm"),
        (
            "side: left, state: static, gap: 1 mm, tool: feeler gauge",
            "side: left, state: static, gap: 2.5 mm, tool: feeler gauge",
        ),
    ],
)
def test_two_gaps_that_cannot_both_be_are_an_error_with_both_lines(first: str, second: str) -> None:
    for pair in ((first, second), (second, first)):
        (fault,) = faults(*pair)
        assert fault.severity is Severity.ERROR
        assert fault.place.line != fault.also[0].place.line
        assert len(fault.also) == 1


@pytest.mark.parametrize(
    ("first", "second"),
    [
        ("side: left, state: static, gap: 9 mm", "side: right, state: static, gap: touches"),
        ("side: left, state: static, gap: 9 mm", "side: left, state: full bump, gap: touches"),
        ("side: left, state: static, gap: 9 mm", "side: left, state: static, gap: clears"),
        ("side: left, state: static, gap: 9 mm", "side: left, state: static, gap: not checked"),
        ("side: left, state: static, gap: 9 mm", "side: left, state: static, gap: 12 mm"),
        ("side: left, state: static, gap: clears", "side: left, state: static, gap: clears"),
    ],
)
def test_gaps_that_can_both_be_are_left_alone(first: str, second: str) -> None:
    assert faults(first, second) == []
