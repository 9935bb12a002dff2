"""What the bench asks of a wheel, against sums by hand."""

from generator.computing import guide_of
from generator.records.collect import collect
from generator.records.examples import example_files
from generator.site.facts import Shown
from generator.site.procedure import procedure

CAR = "chassis: {front: {fastening: {thread: 7/16-20}, permitted_load: 735 kg}}"


def bench() -> dict[str, tuple[Shown, Shown]]:
    guide = guide_of(collect(example_files(CAR)), ())
    return {
        line.label.split(",")[0]: (line.front, line.rear)
        for line in procedure(guide, guide.chassis()[0]).bench
    }


def test_the_turns_wanted_make_one_diameter_of_thread() -> None:
    # 7/16 in is 8.75 turns of 1/20 in, 12 mm 8 turns of 1.5 mm (one diameter: common practice).
    front, rear = bench()["turns from first catch to seat"]
    assert (front.text, rear.text) == ("8.8, one diameter", "8.0, one diameter")


def test_a_wheel_must_carry_half_of_its_axle_and_no_less() -> None:
    # 735 / 2 = 367.5 and 760 / 2 = 380 kg; 367.5 kg is 810.2 lb, 380 kg 837.8 lb (NIST SP 811).
    front, rear = bench()["load rating cast in the wheel"]
    assert (front.value, front.other, rear.value, rear.other) == (368.0, 811.0, 380.0, 838.0)
    assert front.unit == "kg"
    assert front.other_unit == "lb"
