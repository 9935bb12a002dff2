"""The club's settings: its name, addresses, units, wanted gaps and caution texts."""

import re
from typing import Annotated

from generator.quantities.misread import Misread
from generator.reading.fields import (
    Length,
    Line,
    Link,
    Model,
    Name,
    Prose,
    YesNo,
    described,
    listed,
    text_reader,
    word,
)
from generator.records.forge import Forge
from generator.records.words import UnitsShown

# No file of the guide has one of these names: see reading/folder.py.
_NEVER = "(?!(?:index|con|nul|aux|prn|com[0-9]|lpt[0-9])(?:/|\\Z))"
_SLUG = f"{_NEVER}[a-z0-9]+(?:-[a-z0-9]+)*"
_WAY = re.compile(rf"(?:setups/{_SLUG}/{_SLUG}|(?:chassis|articles)/{_SLUG})\Z")


def read_way(text: str) -> str:
    """Read the way to a file of the content, without its ending.

    >>> read_way("setups/ostvane-meridel/first-try")
    'setups/ostvane-meridel/first-try'
    """
    if len(text) > 200 or not _WAY.match(text):
        bare = re.sub(r"\.(yaml|md|html)\Z", "", text[:200]).strip("/")
        raise Misread(
            "F08", f"`{text[:60]}` is not the way to a file of the guide", 0, len(text),
            "`setups/<chassis>/<name>`, `chassis/<name>` or `articles/<name>`, without ending",
            fix=bare if _WAY.match(bare) else "",
        )  # fmt: skip
    return text


Way = Annotated[str, text_reader(read_way)]


class Move(Model):
    """A page that has another address now; the old one leads there for good."""

    old: Way = described(
        "way it had, without ending", example="setups/ostvane-meridel/first-try", required=True
    )
    new: Way = described(
        "way of the page to read instead, without ending",
        example="setups/ostvane-meridel/copperbill-first-try",
        required=True,
    )


class WantedGaps(Model):
    """The least gaps the club wants where a sheet says nothing else."""

    caliper: Length = described("caliper to wheel", example="3 mm", usual=(1, 10), required=True)
    moving: Length = described(
        "parts of the body that the wheel moves against",
        example="8 mm",
        usual=(3, 25),
        required=True,
    )
    fixed: Length = described(
        "parts that move with the wheel", example="5 mm", usual=(2, 15), required=True
    )
    hoses: Length = described(
        "brake hoses and wires", example="12 mm", usual=(8, 30), required=True
    )


class Club(Model):
    """The settings of one club's guide."""

    name: Name = described("name of the club", example="Fallowmere Old Lane", required=True)
    title: Line = described("title of the guide", example="Fitment guide", required=True)
    about: Prose = described("who the club is, in Markdown", required=True)
    invented: YesNo = described(
        "yes if cars, people and numbers are invented: every page then says so",
        example="no",
        required=True,
    )
    address: Link = described(
        "address of the published guide", example="https://guide.example.org", required=True
    )
    units: Annotated[UnitsShown, word(UnitsShown)] = described(
        "units shown first", example="metric", required=True
    )
    forge: Forge = described("where the records are kept", required=True)
    wanted_gaps: WantedGaps = described("least gaps wanted", required=True)
    local_rules: Prose = described(
        "what the club tells readers about local rules; it never says whether something is legal",
        required=True,
    )
    offline: YesNo | None = described(
        "whether phones may keep pages for reading without a network; yes if left out, and no "
        "also clears what they kept",
        example="no",
    )
    moved: tuple[Move, ...] = listed(
        "old addresses of pages that were renamed, joined or taken out, the oldest first"
    )
