"""Readings of threads; sizes of ISO 261 and ASME B1.1, from memory."""

import pytest

from generator.quantities.misread import Misread
from generator.quantities.thread import (
    METRIC_PITCHES,
    UNIFIED_THREADS,
    ThreadSystem,
    read_thread,
)


@pytest.mark.parametrize(
    ("text", "canonical", "diameter", "pitch"),
    [
        ("M12x1.5", "M12x1.5", 12.0, 1.5),
        ("M12 × 1.5", "M12x1.5", 12.0, 1.5),
        ("m12 X 1.50", "M12x1.5", 12.0, 1.5),
        ("M14x2", "M14x2", 14.0, 2.0),
        ("M12x1.75", "M12x1.75", 12.0, 1.75),
        ("1/2-20", "1/2-20 UNF", 12.7, 1.27),  # 25.4 / 2, 25.4 / 20
        ("7/16-20 UNF", "7/16-20 UNF", 11.1125, 1.27),
        ("9/16-18", "9/16-18 UNF", 14.2875, 25.4 / 18),
        ("5/8-18", "5/8-18 UNF", 15.875, 25.4 / 18),
        ('1/2" x 13 unc', "1/2-13 UNC", 12.7, 25.4 / 13),
        ("M12x1.5 LH", "M12x1.5 LH", 12.0, 1.5),
    ],
)
def test_thread_is_read(text: str, canonical: str, diameter: float, pitch: float) -> None:
    thread = read_thread(text)
    assert str(thread) == canonical
    assert (thread.diameter, thread.pitch) == pytest.approx((diameter, pitch))
    assert read_thread(str(thread)) == thread


def test_bare_diameter_names_the_pitches_and_guesses_none() -> None:
    with pytest.raises(Misread) as caught:
        read_thread("M12")
    assert caught.value.code == "N302"
    assert caught.value.fix == "M12x1.75, M12x1.5, M12x1.25 or M12x1"


def test_every_listed_thread_is_read_back() -> None:
    for diameter, pitches in METRIC_PITCHES:
        for pitch in pitches:
            assert read_thread(f"M{diameter}x{pitch:g}").system is ThreadSystem.METRIC
    for nominal, coarse, fine in UNIFIED_THREADS:
        assert str(read_thread(f"{nominal}-{coarse}")).endswith("UNC")
        assert str(read_thread(f"{nominal}-{fine}")).endswith("UNF")


@pytest.mark.parametrize(
    ("text", "code"),
    [("12x1.5", "N301"), ("M12x1,5", "N301"), ("M12x1.4", "N303"), ("M13x1.5", "N304"),
     ("1/2", "N302"), ("1/2-19", "N303"), ("1/0-20", "N304"), ("7/16 BSF", "N301"),
     ("M12x1.5-6g", "N301"), ("1/2-20 UNC", "N305")],
)  # fmt: skip
def test_each_slip_has_its_code(text: str, code: str) -> None:
    with pytest.raises(Misread) as caught:
        read_thread(text)
    assert caught.value.code == code
