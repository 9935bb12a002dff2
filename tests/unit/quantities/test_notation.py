"""What all readers of trade notation have in common: any text gives a value or a Misread, fast."""

import re
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.quantities import bolt_circle, date_code, rim_size, seat, thread, tyre_size
from generator.quantities.misread import Explained, Misread
from tests.processor import at_most

Reader = Callable[[str], object]
READERS: dict[str, Reader] = {
    "N1": tyre_size.read_tyre_size,
    "N2": rim_size.read_rim_size,
    "N3": thread.read_thread,
    "N4": bolt_circle.read_bolt_circle,
    "N5": date_code.read_date_code,
    "N6": seat.read_seat,
}
CODES: tuple[Explained, ...] = (
    *tyre_size.CODES,
    *rim_size.CODES,
    *thread.CODES,
    *bolt_circle.CODES,
    *date_code.CODES,
    *seat.CODES,
)
LONG = 20_000
_LIKELY = st.text(
    st.sampled_from(' 0123456789/x×.-()RZDPLTCXLJHMUNFballconeEOW°"\t\n\u00a0é\u0660ſK'),
    max_size=70,
)


@pytest.mark.parametrize("explained", CODES, ids=lambda explained: explained.code)
def test_bad_example_earns_its_code_and_good_one_is_read(explained: Explained) -> None:
    read = READERS[explained.code[:2]]
    with pytest.raises(Misread) as caught:
        read(explained.bad)
    assert caught.value.code == explained.code
    read(explained.good)


def test_codes_are_distinct() -> None:
    assert len({explained.code for explained in CODES}) == len(CODES)


@pytest.mark.parametrize("read", READERS.values())
@given(text=_LIKELY | st.text(max_size=80))
def test_any_text_gives_a_value_or_a_placed_misread(read: Reader, text: str) -> None:
    outcome = _outcome(read, text)
    if isinstance(outcome, Misread):
        assert outcome.code in {explained.code for explained in CODES}
        assert all((outcome.headline, outcome.expected, outcome.why))
        assert 0 <= outcome.start < outcome.end <= max(len(text), 1)
    else:
        assert read(str(outcome)) == outcome
        assert re.fullmatch("[ -~]+", str(outcome))


def _outcome(read: Reader, text: str) -> object:
    try:
        return read(text)
    except Misread as misread:
        return misread


@pytest.mark.parametrize("read", READERS.values())
@pytest.mark.parametrize("piece", ["1", " ", "x", "205/55 R 16 ", "A1", "(", "é", "1.", "cone "])
def test_long_text_is_refused_at_once(read: Reader, piece: str) -> None:
    text = (piece * LONG)[:LONG]
    with at_most(0.05), pytest.raises(Misread):
        read(text)
