"""A case for both languages, so that they can be held together."""

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True)
class Case:
    """One question and its answer: numbers in mm, degrees or probability, words, None."""

    kind: str
    given: Any
    answer: list[float | str | None]
