"""What a program makes once: values that follow from nothing but the program itself."""

from collections.abc import Callable
from typing import Any, Generic, TypeVar

from generator.cache.digests import digest
from generator.cache.program import program
from generator.cache.store import Store

Value = TypeVar("Value")
_lent: list[Store] = []


class Once(Generic[Value]):
    """A function without arguments that is run once in a process, and with a store once in all."""

    def __init__(self, make: Callable[[], Value]) -> None:
        self._make = make
        self._made: list[Value] = []
        self._name = f"{make.__module__}.{make.__qualname__}"
        self.__doc__ = make.__doc__

    def __call__(self) -> Value:
        """Give the value."""
        if not self._made:
            self._made.append(self._found())
        return self._made[0]

    def _found(self) -> Value:
        if not _lent:
            return self._make()
        return kept(digest("once", program(), self._name), self._make)


def kept(name: str, make: Callable[[], Value]) -> Value:
    """Give the value of a name that says all it follows from, or make it and keep it if one can."""
    if not _lent:
        return make()
    found: Value | None = _lent[0].get(name)
    if found is None:
        found = make()
        _lent[0].put(name, found)
    return found


def recalled(name: str) -> Any | None:
    """Give what is kept under a name, if anything is."""
    return _lent[0].get(name) if _lent else None


def keep(name: str, value: object) -> None:
    """Keep a value under a name, in place of what was there, if one can."""
    if _lent:
        _lent[0].put(name, value)


def lend(store: Store) -> None:
    """Let what is made once in a process be kept in a store, from now on."""
    _lent[:] = [store]
