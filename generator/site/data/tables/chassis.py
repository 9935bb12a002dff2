"""Every chassis sheet: its main numbers, and in JSON the whole sheet as written."""

from collections.abc import Iterator

from generator.frozen import dataclass
from generator.reading.pruning import plain
from generator.reading.writing import Plain
from generator.records.chassis import Chassis
from generator.records.library import Filed
from generator.records.words import Drive
from generator.site import urls
from generator.site.data.columns import Column, Kind, Table
from generator.site.guide import Guide


@dataclass(frozen=True)
class ChassisRow:
    """One chassis, and how many setups there are of it."""

    address: str
    filed: Filed[Chassis]
    setups: int

    @property
    def sheet(self) -> Chassis:
        """Give the sheet."""
        return self.filed.value


def rows(guide: Guide) -> Iterator[ChassisRow]:
    """Give all chassis, in order of id."""
    for name in sorted(guide.library.chassis):
        address = f"{guide.club.address}/{urls.chassis(name)}"
        setups = len(guide.library.of_chassis(name))
        yield ChassisRow(address, guide.library.chassis[name], setups)


def _as_written(row: ChassisRow) -> Plain:
    return plain(row.filed.source.root)


TABLE = Table(
    name="chassis",
    title="Chassis",
    row='one chassis sheet; in JSON with the whole sheet as written beside it, as "record"',
    key=("chassis",),
    columns=(
        Column("chassis", Kind.TEXT, "id of the chassis sheet", "ostvane-meridel",
               lambda row: row.filed.id, may_lack=False),
        Column("address", Kind.TEXT, "address of its page",
               "https://guide.example.org/chassis/ostvane-meridel.html",
               lambda row: row.address, may_lack=False),
        Column("name", Kind.TEXT, "name", "Ostvane Meridel", lambda row: row.sheet.name,
               may_lack=False),
        Column("also_called", Kind.TEXTS, "other names members use", "Meridel coupe",
               lambda row: row.sheet.also_called, may_lack=False),
        Column("body", Kind.TEXT, "body", "two-door notchback coupe", lambda row: row.sheet.body,
               may_lack=False),
        Column("built", Kind.TEXT, "years built", "1976 to 1984", lambda row: row.sheet.built,
               may_lack=False),
        Column("drive", Kind.TEXT, "driven wheels", "rear", lambda row: row.sheet.drive.value,
               choices=tuple(drive.value for drive in Drive), may_lack=False),
        Column("wheelbase", Kind.NUMBER, "wheelbase", "2480",
               lambda row: row.sheet.wheelbase.value, "mm", may_lack=False),
        Column("kerb_mass", Kind.NUMBER, "kerb mass", "1115",
               lambda row: row.sheet.kerb_mass.value, "kg", may_lack=False),
        Column("top_speed", Kind.NUMBER, "top speed", "175",
               lambda row: row.sheet.top_speed.value if row.sheet.top_speed else None, "km/h"),
        Column("sites", Kind.COUNT, "places on the sheet where something can touch", "17",
               lambda row: len(row.sheet.sites), may_lack=False),
        Column("setups", Kind.COUNT, "setups of it, withdrawn ones among them", "8",
               lambda row: row.setups, may_lack=False),
    ),
    rows=rows,
    as_written=_as_written,
)  # fmt: skip
