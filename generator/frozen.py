"""Frozen dataclasses that begin sooner: what `dataclasses.dataclass(frozen=True)` gives, in less.

The standard decorator compiles six methods a class as soon as the class is read, which took a fifth
of a second of every command, and its frozen `__init__` goes through `object.__setattr__` for each
field. Here a class is finished when somebody first asks for an instance or its fields, and its
`__init__` writes into the instance's own dictionary: an instance in two fifths of the time.
Fields, `replace`, equality, hash, order, representation and the refusal of changes are as the
standard's.
"""

from typing import TYPE_CHECKING

__all__ = ["dataclass"]

if TYPE_CHECKING:
    from dataclasses import dataclass
else:
    import dataclasses
    from _thread import RLock
    from operator import attrgetter, ge, gt, le, lt

    _FIELDS = "__dataclass_fields__"
    _making = RLock()

    def dataclass(cls=None, /, *, frozen=False, eq=True, order=False):
        """Make a frozen dataclass of a class. Raises TypeError if it is not to be frozen."""
        if cls is None:
            return lambda cls: dataclass(cls, frozen=frozen, eq=eq, order=order)
        if not frozen:
            raise TypeError(f"{cls.__qualname__} is not frozen: the standard dataclass makes it")
        # Without a text of its own the standard decorator would write one, from a signature.
        cls.__doc__ = cls.__doc__ or cls.__name__
        own = {*vars(cls)}
        setattr(cls, _FIELDS, _Later(cls, own, eq=eq, order=order))
        cls.__setattr__, cls.__delattr__ = _refused, _refused
        names = ["__init__", "__repr__"]
        names += ["__eq__", "__hash__"] * eq + ["__lt__", "__le__", "__gt__", "__ge__"] * order
        for name in names:
            if name not in own:
                setattr(cls, name, _first(cls, name))
        return cls

    class _Later:
        """The fields of a class that nobody has asked for yet; who asks has the class finished.

        A class that a command reads and never uses costs next to nothing so.
        """

        def __init__(self, cls, own, *, eq, order):
            self._cls, self._own, self._how = cls, own, {"eq": eq, "order": order}

        def __get__(self, _, owner=None):
            cls = self._cls
            with _making:
                if vars(cls)[_FIELDS] is self:
                    dataclasses.dataclass(cls, init=False, repr=False, eq=False)
                    given = _given(cls, **self._how)
                    for name in given.keys() - self._own:
                        setattr(cls, name, given[name])
            return vars(cls)[_FIELDS]

    def _first(cls, name):
        """Give a method that finishes its class and is then the one that the class has got."""

        def method(self, *values, **named):
            with _making:  # another thread may be about it
                getattr(cls, _FIELDS)
            return getattr(cls, name)(self, *values, **named)

        return method

    def _given(cls, *, eq, order):
        fields = dataclasses.fields(cls)
        given = {
            "__init__": _init_of(cls),
            "__repr__": _repr_of(tuple(field.name for field in fields if field.repr)),
        }
        compared = _values_of(tuple(field.name for field in fields if field.compare))
        if eq:
            given["__eq__"] = _equal(compared)
            given["__hash__"] = lambda self: hash(compared(self))
        if order:
            for way in (lt, le, gt, ge):
                given[f"__{way.__name__}__"] = _compare(compared, way)
        return given

    def _values_of(names):
        if len(names) > 1:
            return attrgetter(*names)
        return (lambda self: (getattr(self, names[0]),)) if names else lambda self: ()

    def _equal(values):
        def equal(self, other):
            if other.__class__ is not self.__class__:
                return NotImplemented
            return values(self) == values(other)

        return equal

    def _compare(values, way):
        def compare(self, other):
            if other.__class__ is not self.__class__:
                return NotImplemented
            return way(values(self), values(other))

        return compare

    def _repr_of(names):
        def __repr__(self):  # noqa: N807
            shown = ", ".join(f"{name}={getattr(self, name)!r}" for name in names)
            return f"{self.__class__.__qualname__}({shown})"

        return __repr__

    def _refused(self, name, *_):
        raise dataclasses.FrozenInstanceError(f"cannot change field {name!r}")

    def _init_of(cls):
        """Compile the `__init__` of a class; an argument's default stands in `known`."""
        known = {"unset": dataclasses.MISSING}
        arguments, lines = ["self"], ["    own = self.__dict__"]
        for field in dataclasses.fields(cls):
            name, value = field.name, field.name
            if field.default is not dataclasses.MISSING:
                known[f"default_{name}"] = field.default
                arguments.append(f"{name}=default_{name}")
            elif field.default_factory is not dataclasses.MISSING:
                known[f"make_{name}"] = field.default_factory
                arguments.append(f"{name}=unset")
                value = f"make_{name}() if {name} is unset else {name}"
            else:
                arguments.append(name)
            lines.append(f"    own[{name!r}] = {value}")
        if hasattr(cls, "__post_init__"):
            lines.append("    self.__post_init__()")
        # Only names of fields, as the program itself declares them, stand in this text.
        exec("\n".join([f"def __init__({', '.join(arguments)}):", *lines]), known)
        made = known["__init__"]
        made.__qualname__, made.__module__ = f"{cls.__qualname__}.__init__", cls.__module__
        return made
