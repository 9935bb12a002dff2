"""A coverage-guided fuzzer of all that reads members' bytes: libFuzzer by way of atheris.

    python tests/fuzz/guided.py TARGET [RUNS]

It comes with the extra `test` for Linux on x86-64, where atheris is made; the other tests of this
folder do without. A case passes if the reader says what it found: a value, or a fault in its place.
What is raised, takes more than two seconds of the processor or a lot of memory ends the run with
the bytes that did it.
"""

import csv
import io
import sys
from collections.abc import Callable
from pathlib import Path
from time import process_time

MOST_SECONDS = 2.0
"""Of the processor, for one case: the limit for a hostile record in the project's reference."""
MOST_MEGABYTES = 1024
"""Of the whole process, with the fuzzer and the files that it remembers to have looked at: some 530
for records. What one record may take is held by `tests/hostile`."""
WORDS = (
    "&a ", "*a", "<<: ", "!!set ", "- ", "\t", ": ", '"', "'", "{", "}", "[", "]", "|\n", "#",
    "---\n", "%YAML 1.1\n", "? ", "nan", ".inf", "1e400", "5,5 mm", "1 1/2 in", "\\", "](", "`",
    "../", "=", "@", " mm", " in", " N m", " lb ft", " deg", "R16", "x", "between ", " and ",
    "at least ", "clears", "touches", "not checked", "setup:", "title:", "gaps:", "front:",
)  # fmt: skip
"""What the fuzzer may put in, beside single bytes."""

SAMPLES = Path(__file__).resolve().parents[2] / "generator/records/sample"
PICTURES = Path(__file__).resolve().parents[2] / "content_demo/photos"


def texts(body: bytes) -> str:
    return body.decode("utf-8", "surrogateescape" if len(body) % 2 else "replace")


def loader(body: bytes) -> None:
    from generator.reading.source import load

    source, faults = load("x.yaml", body)
    assert source is not None or faults


def records(body: bytes) -> None:
    from generator.reading.folder import Found
    from generator.records.collect import collect

    path = ("club.yaml", "chassis/a.yaml", "setups/a/b.yaml", "articles/c.md")[len(body) % 4]
    collected = collect([Found(path, body)])
    assert collected.faults or collected.library


def _read(reader: Callable[[str], object], text: str) -> None:
    from generator.quantities.misread import Misread

    try:
        reader(text)
        return
    except Misread as misread:
        slip = misread
    assert slip.code
    assert 0 <= slip.start <= slip.end <= len(text) + 1, (slip.start, slip.end, text)


def quantities(body: bytes) -> None:
    from functools import partial

    from generator.quantities.quantity import read_quantity
    from generator.quantities.span import read_coordinate, read_extent, read_gap
    from generator.quantities.units import Dimension

    text = texts(body)
    for dimension in Dimension:
        _read(partial(read_quantity, dimension=dimension), text)
    for reader in (read_coordinate, read_extent, read_gap):
        _read(reader, text)


def notation(body: bytes) -> None:
    from generator.quantities.bolt_circle import read_bolt_circle
    from generator.quantities.date_code import read_date_code
    from generator.quantities.rim_size import read_rim_size
    from generator.quantities.seat import read_seat
    from generator.quantities.thread import read_thread
    from generator.quantities.tyre_size import read_tyre_size

    text = texts(body)
    for reader in (
        read_tyre_size, read_rim_size, read_thread, read_bolt_circle, read_date_code, read_seat,
    ):  # fmt: skip
        _read(reader, text)


def notes(body: bytes) -> None:
    from generator.quantities.misread import Misread
    from generator.reading.fields import read_prose
    from generator.rendering.prose import note

    text = texts(body)
    try:
        shown = str(note(read_prose(text)))
    except Misread:
        return
    for start in ("<script", "<img", "<iframe", "<svg", "<style", "<object", "<form"):
        assert start not in shown.lower()


def names(body: bytes) -> None:
    from generator.reading.fields import read_line, read_name, read_slug
    from generator.reading.folder import is_photo, is_wanted, odd_name
    from generator.records.club import read_way
    from generator.records.setup import read_photo_name

    text = texts(body)
    for reader in (read_slug, read_name, read_line, read_way, read_photo_name):
        _read(reader, text)
    if text and odd_name(text) is None and (is_wanted(text) or is_photo(text)):
        assert ".." not in text
        assert not text.startswith("/")
        assert text.isascii()


def tables(body: bytes) -> None:
    from generator.site.data.columns import Column, Kind
    from generator.site.data.writing import csv_cell, without_apostrophe

    text = texts(body)
    words = Column[object]("a", Kind.TEXT, "a text", "a", lambda _: None)
    number = Column[object]("b", Kind.NUMBER, "a number", "1", lambda _: None)
    cells = [csv_cell(words, text), csv_cell(number, -12.0), csv_cell(words, text)]
    row = ",".join(cells)
    (read,) = csv.reader(io.StringIO(row, newline=""), strict=True)
    assert len(read) == 3
    assert float(read[1]) == -12.0
    assert without_apostrophe(read[0]) == text
    assert not read[0].startswith(("=", "+", "-", "@", "\t", "\r", "＝", "＋", "－", "＠"))


def pictures(body: bytes) -> None:
    from generator.reading.photos import photo_of

    for ending in ("jpg", "png", "webp"):
        photo, faults = photo_of(f"photos/a/b/c.{ending}", body)
        assert photo.is_sound or faults


TARGETS = {
    target.__name__: target
    for target in (loader, records, quantities, notation, notes, names, tables, pictures)
}


def seeds(target: str) -> list[bytes]:
    """Give texts of the kind that a target reads, to begin with."""
    if target == "pictures":
        return [path.read_bytes()[:20_000] for path in sorted(PICTURES.rglob("*.jpg"))]
    if target in ("loader", "records"):
        return [path.read_bytes() for path in sorted(SAMPLES.glob("*.yaml"))]
    words = ("9 in", "5 mm", "3/8 in", "195/60 R15 88V", "6.00-16", "15x7", "M12x1.5", "5x114.3")
    return [word.encode() for word in (*words, "1925", "cone 60 deg", "[a](javascript:b)", "=1+1")]


def timed(target: Callable[[bytes], None], body: bytes) -> None:
    """Run one case, and hold it to its time."""
    begin = process_time()
    target(body)
    took = process_time() - begin
    assert took <= MOST_SECONDS, f"took {took:.1f} s of the processor"


def dictionary() -> str:
    """Write the words as libFuzzer takes them: in quotes, other bytes than letters as numbers."""
    return "".join(
        '"' + "".join(f"\\x{byte:02x}" for byte in word.encode()) + '"\n' for word in WORDS
    )


def main() -> None:
    """Fuzz one target for a number of runs."""
    import tempfile
    from functools import partial

    import atheris

    target, runs = sys.argv[1], sys.argv[2] if len(sys.argv) > 2 else "20000"
    with atheris.instrument_imports(include=["generator", "markdown_it", "yaml"]):
        TARGETS[target](b"title: a")
    with tempfile.TemporaryDirectory() as folder:
        for at, seed in enumerate(seeds(target)):
            (Path(folder) / f"{at}").write_bytes(seed)
        with tempfile.NamedTemporaryFile("w", suffix=".dict") as words:
            words.write(dictionary())
            words.flush()
            options = [
                sys.argv[0], f"-runs={runs}", "-timeout=60", f"-rss_limit_mb={MOST_MEGABYTES}",
                "-max_len=8192", f"-dict={words.name}", "-seed=1", folder,
            ]  # fmt: skip
            atheris.Setup(options, partial(timed, TARGETS[target]))
            atheris.Fuzz()


if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[2]))
    main()
