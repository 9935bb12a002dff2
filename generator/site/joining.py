"""What the pages of the whole guide are put together from, when each chassis gave its share."""

from collections.abc import Mapping, Sequence
from typing import Any

from generator.frozen import dataclass
from generator.site.guide import Guide, Input


@dataclass(frozen=True)
class Joining:
    """The guide with its records, and what was made of them chassis by chassis.

    Nothing computed is in `guide`: what a view says of that comes from `shares`, which has for each
    view by its name what the view itself made of every chassis, in order of the chassis' ids.
    `tables` are the finished files of the tables, `pages` the addresses of all pages that stand
    for themselves.
    """

    guide: Guide
    shares: Mapping[str, Sequence[Any]]
    tables: Sequence[Input] = ()
    pages: Sequence[str] = ()
