"""A photo lies beside the records and none of them shows it."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Place, Severity
from generator.records.library import Library, photo_path
from generator.records.rule import Rule

RULE = Rule(
    code="L29",
    title="a photo that no record shows",
    severity=Severity.WARNING,
    why="It is on no page: nobody wrote in words what it shows. Perhaps a name was mistyped, or "
    "the record that showed it is gone.",
    mend="Name it under `photos` in its record, with its `alt` text, or delete the file.",
    source="own rule of the guide",
    bad="photos: [photos/ostvane-meridel/copperbill-seven-inch/gauge.jpg]",
    good="photos: [photos/ostvane-meridel/copperbill-seven-inch/gauge.jpg]\nsetup:\n"
    "  photos:\n    - {file: gauge.jpg, alt: Feeler gauge of 6 mm at the strut}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Look for the record of each photo; one whose record could not be read is left alone."""
    if library.photos is None:
        return
    shown = {
        photo_path(setup.id, photo.file)
        for setup in library.setups.values()
        for photo in setup.value.photos
    }
    partly = {setup.id for setup in library.setups.values() if not setup.is_complete}
    for path in sorted(library.photos):
        record = "/".join(path.split("/")[1:3])
        if path in shown or record in partly or f"setups/{record}.yaml" in library.unread:
            continue
        yield RULE.fault(
            Place(path),
            "no record shows this photo",
            expected=f"a line for it in `setups/{record}.yaml`",
            fix=f"add `- {{file: {path.rpartition('/')[2]}, alt: …}}` under `photos`, with what it "
            "shows in words",
        )
