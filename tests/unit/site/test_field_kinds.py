"""Kinds of fields, told from their declarations alone."""

import pytest

from generator.records.chassis import Chassis
from generator.records.fitted import AxleSetup, TyreFitted, WheelFitted
from generator.records.setup import Gap, Setup
from generator.site.field_kinds import kind_of


@pytest.mark.parametrize(
    ("model", "field", "words", "unit"),
    [
        (WheelFitted, "offset", "length in mm, cm, in, thou", "mm"),
        (WheelFitted, "masses", "list: mass in kg, g, lb", "kg"),
        (WheelFitted, "size", "rim size", ""),
        (TyreFitted, "pressure", "pressure in bar, psi, kPa", "bar"),
        (TyreFitted, "date_codes", "list: date code", ""),
        (AxleSetup, "camber", "angle in deg, arcmin", "deg"),
        (AxleSetup, "wheel", "group", ""),
        (Setup, "date", "date, year-month-day", ""),
        (Setup, "notes", "longer text in Markdown", ""),
        (Setup, "gaps", "list: group", ""),
        (Chassis, "name", "name", ""),
    ],
)
def test_a_field_says_what_it_holds(model: type, field: str, words: str, unit: str) -> None:
    kind = kind_of(model.model_fields[field])
    assert (kind.words, kind.unit) == (words, unit)


def test_a_choice_lists_its_words() -> None:
    assert kind_of(Gap.model_fields["side"]).choices == ("left", "right", "both")
    assert kind_of(Gap.model_fields["axle"]).choices == ("front", "rear")


def test_no_field_of_a_setup_is_just_text() -> None:
    for name, info in Setup.model_fields.items():
        assert kind_of(info).words != "text", name
