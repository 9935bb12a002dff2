"""A record shows a photo that does not lie beside it, or shows one twice."""

from collections.abc import Iterator

from generator.reading.fault import Fault, Severity
from generator.records.library import Library, photo_path
from generator.records.names import expecting
from generator.records.rule import Rule, marked

RULE = Rule(
    code="L28",
    title="a photo that is not there",
    severity=Severity.ERROR,
    why="A page would show the words for a picture and no picture. A photo lies in the folder of "
    "its record, so that nobody's record shows what another member sent.",
    mend="Put the file into photos/<chassis>/<name of the record>/, write the name it has there, "
    "or take the entry out.",
    source="own rule of the guide",
    bad="setup:\n  photos:\n    - {file: gauge.jpg, alt: Feeler gauge of 6 mm at the strut}\n"
    "    - {file: gauge.jpg, alt: The same gauge at the strut}",
    good="setup:\n  photos:\n    - {file: gauge.jpg, alt: Feeler gauge of 6 mm at the strut}",
    is_live=False,
)


def check_library(library: Library) -> Iterator[Fault]:
    """Look up each photo of each setup."""
    for setup in library.setups.values():
        first: dict[str, int] = {}
        for at, photo in enumerate(setup.value.photos):
            place = setup.place("photos", at, "file")
            if first.setdefault(photo.file, at) != at:
                earlier = marked(setup, "shown here", "photos", first[photo.file], "file")
                yield RULE.fault(
                    place,
                    f"the photo `{photo.file}` is shown twice",
                    expected="each photo once",
                    fix="leave one of the two out",
                    also=(earlier,),
                )
            elif library.photos is not None:
                path = photo_path(setup.id, photo.file)
                if path not in library.photos:
                    folder = photo_path(setup.id, "")
                    beside = [
                        p.removeprefix(folder) for p in library.photos if p.startswith(folder)
                    ]
                    expected, near = expecting(photo.file, beside)
                    yield RULE.fault(
                        place,
                        f"there is no photo `{path}`",
                        expected=expected or f"a file in the folder `{folder.rstrip('/')}`",
                        fix=f"write `file: {near}`" if near else f"add the file `{path}`",
                    )
