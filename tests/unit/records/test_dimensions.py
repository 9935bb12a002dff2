"""What a size alone says of a tyre, against the published tables of sizes."""

import pytest

from generator.quantities.tyre_size import read_tyre_size
from generator.records.dimensions import nominal_tyre


@pytest.mark.parametrize("text", ["31x10.50R15LT", "31x10.50R15LT 109Q", "31 x 10.50 R 15 LT"])
def test_a_flotation_size_has_its_section_and_diameter(text: str) -> None:
    # UN R54 annex 5 part II, from memory: 8.5 in measuring rim, 775 mm, 268 mm
    known = nominal_tyre(read_tyre_size(text), 8.5 * 25.4)
    assert known is not None
    assert (known.diameter, known.section_width) == (775.0, 268.0)


def test_a_flotation_size_without_lt_is_not_in_the_table() -> None:
    assert nominal_tyre(read_tyre_size("31x10.50R15"), 8.5 * 25.4) is None
