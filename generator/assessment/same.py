"""A sheet to keep results by: told from others by being the same object, not by what it says.

To compare two sheets line by line would take longer than most of what is kept by them.
"""

from typing import Generic, TypeVar

Sheet = TypeVar("Sheet")


class Same(Generic[Sheet]):
    """Holds a sheet. Equal to another holder of the same object only."""

    __slots__ = ("it",)

    def __init__(self, it: Sheet) -> None:
        self.it = it

    def __hash__(self) -> int:
        """Give the object's own."""
        return id(self.it)

    def __eq__(self, other: object) -> bool:
        """Tell whether both hold the same object, which cannot go while it is held."""
        return isinstance(other, Same) and self.it is other.it
