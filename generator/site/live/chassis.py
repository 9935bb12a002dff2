"""One chassis for the browser's copy of the computation, and what a trial may start from."""

import json
from collections.abc import Iterable

from generator.evidence.club import ChassisEvidence
from generator.evidence.limits import SitePosterior
from generator.records.chassis import Chassis
from generator.records.library import Filed
from generator.records.setup import Setup
from generator.site.live.fitted import Json, fitted_json, number
from generator.site.live.packing import Packed, packed
from generator.site.live.sheet import end_json, sites_json


def chassis_json(chassis: Filed[Chassis], evidence: ChassisEvidence) -> Json:
    """Give sheet and limits of a chassis; see templates/scripts/fit/verdict.js.

    `limits` are by axle, site, side and condition, `alone` what the sheet alone says; `tables` are
    the packed distributions that both name by their place, each once.
    """
    sheet = chassis.value
    shelf = _Shelf()
    alone = {name: shelf.told(known) for name, known in evidence.sheet_alone.items()}
    limits = {
        ".".join((key.axle.value, key.site, key.side.value, key.condition.value)): shelf.told(
            known.posterior
        )
        for key, known in evidence.limits.items()
    }
    return {
        "id": chassis.id,
        "name": sheet.name,
        "drive": sheet.drive.value,
        "topSpeed": number(sheet.top_speed),
        "front": end_json(sheet.front, sheet.steering),
        "rear": end_json(sheet.rear, None),
        "sites": sites_json(sheet),
        "limits": limits,
        "alone": alone,
        "tables": shelf.tables,
    }


class _Shelf:
    """Packed tables, each once, and the places they were put."""

    def __init__(self) -> None:
        self.tables: list[Json] = []
        self._places: dict[Packed, int] = {}

    def told(self, posterior: SitePosterior) -> Json:
        """Give what the browser is told of one limit."""
        table = packed(posterior.next_car)
        if table not in self._places:
            self._places[table] = len(self.tables)
            self.tables.append(table.as_json())
        return {"table": self._places[table], "cars": posterior.cars}


def starts_json(setups: Iterable[Filed[Setup]]) -> Json:
    """Give what is fitted by each setup, by the last part of its id, to start a trial from."""
    return {
        setup.id.rsplit("/", 1)[-1]: {
            "title": setup.value.title,
            "front": fitted_json(setup.value.front),
            "rear": fitted_json(setup.value.rear),
        }
        for setup in setups
    }


def text_of(value: Json) -> str:
    """Write JSON as short as it can be without losing a digit."""
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"), allow_nan=False) + "\n"
