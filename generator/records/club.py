"""The club's settings: its name, addresses, units, wanted gaps and caution texts."""

from typing import Annotated

from generator.reading.fields import Length, Line, Link, Model, Name, Prose, YesNo, described, word
from generator.records.forge import Forge
from generator.records.words import UnitsShown


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
