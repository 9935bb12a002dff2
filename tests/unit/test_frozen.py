"""Frozen dataclasses, held to those of Python's own `dataclasses`, declared alike beside them."""

import dataclasses
import pickle
import re
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import cached_property
from typing import Any

import pytest

from generator.frozen import dataclass as ours

standard = dataclasses.dataclass
Make = Callable[..., Any]


def declared(make: Make, **how: bool) -> Any:
    @make(frozen=True, **how)
    class Bolt:
        length: float
        thread: str = "M12"
        marks: list[str] = dataclasses.field(default_factory=list)
        typed: str = dataclasses.field(compare=False, default="")

        def __post_init__(self) -> None:
            if self.length < 0:
                raise ValueError("shorter than nothing")

        @cached_property
        def half(self) -> float:
            return self.length / 2

    return Bolt


def made_longer(make: Make) -> Any:
    @make(frozen=True)
    class Stud(declared(make)):  # type: ignore[misc]
        side: str = "left"

    return Stud


@ours(frozen=True)
class Nut:
    """A class that a pickle can be told the name of."""

    size: float
    seat: str = "cone"


@pytest.mark.parametrize("build", [declared, made_longer])
def test_values_are_as_the_standard_makes_them(build: Make) -> None:
    one, other = build(ours), build(standard)
    for values, named in (
        ((1.5,), {}),
        ((1.5, "M14"), {"typed": "1.5"}),
        ((), {"marks": ["8.8"], "length": 2.0}),
    ):
        left, right = one(*values, **named), other(*values, **named)
        assert dataclasses.asdict(left) == dataclasses.asdict(right)
        assert repr(left) == repr(right)
        assert left.half == right.half
        assert dataclasses.asdict(dataclasses.replace(left, length=3.0)) == dataclasses.asdict(
            dataclasses.replace(right, length=3.0)
        )
    assert one(1.0).marks is not one(1.0).marks
    assert one.__match_args__ == other.__match_args__


@pytest.mark.parametrize("make", [ours, standard])
def test_equality_and_hash_leave_out_what_is_not_compared(make: Make) -> None:
    bolt = declared(make)
    assert bolt(1.0, typed="1") == bolt(1.0, typed="1.0")
    assert bolt(1.0) != bolt(2.0)
    assert bolt(1.0) != made_longer(make)(1.0)
    with pytest.raises(TypeError, match="unhashable"):
        hash(bolt(1.0))
    marked = {"marks": ("8.8",)}
    assert len({bolt(1.0, typed="1", **marked), bolt(1.0, **marked)}) == 1


@pytest.mark.parametrize("make", [ours, standard])
def test_nothing_can_be_changed(make: Make) -> None:
    bolt = declared(make)(1.0)
    with pytest.raises(dataclasses.FrozenInstanceError):
        bolt.length = 2.0
    with pytest.raises(dataclasses.FrozenInstanceError):
        bolt.another = 2.0
    with pytest.raises(dataclasses.FrozenInstanceError):
        del bolt.length


@pytest.mark.parametrize("make", [ours, standard])
@pytest.mark.parametrize("values", [(), (1.0, "M12", [], "", "more"), (-1.0,)])
def test_wrong_arguments_are_refused(make: Make, values: tuple[Any, ...]) -> None:
    bolt = declared(make)
    with pytest.raises((TypeError, ValueError)):
        bolt(*values)
    with pytest.raises(TypeError, match="unexpected keyword argument 'width'"):
        bolt(1.0, width=2.0)


@pytest.mark.parametrize("make", [ours, standard])
def test_order_and_identity_when_asked_for(make: Make) -> None:
    ordered, plain = declared(make, order=True), declared(make, eq=False)
    assert ordered(1.0) < ordered(2.0) >= ordered(1.5)
    assert sorted([ordered(2.0), ordered(1.0)])[0].length == 1.0
    assert plain(1.0) != plain(1.0)
    assert len({plain(1.0), plain(1.0)}) == 2


def test_an_instance_outlives_its_process_in_a_pickle() -> None:
    nut = Nut(12.0)
    assert pickle.loads(pickle.dumps(nut)) == nut
    assert hash(pickle.loads(pickle.dumps(nut))) == hash(nut)


def test_what_is_not_frozen_is_left_to_the_standard() -> None:
    with pytest.raises(TypeError, match="not frozen"):
        declared(lambda **_: ours())


@pytest.mark.parametrize(
    "ask",
    [
        dataclasses.fields,
        lambda cls: dataclasses.fields(cls(1.0)),
        lambda cls: dataclasses.replace(as_from_a_pickle(cls), length=2.0),
        lambda cls: as_from_a_pickle(cls) == as_from_a_pickle(cls),
        lambda cls: hash(as_from_a_pickle(cls)),
        lambda cls: repr(as_from_a_pickle(cls)),
        lambda cls: as_from_a_pickle(cls) < as_from_a_pickle(cls),
    ],
    ids=["class", "instance", "replace", "equality", "hash", "representation", "order"],
)
@pytest.mark.parametrize("inherits", [False, True])
def test_a_class_is_whole_for_whoever_asks_first(
    ask: Callable[[Any], object], inherits: bool
) -> None:
    def fresh(make: Make) -> Any:
        @make(frozen=True, order=True)
        class Stud:
            length: float
            marks: tuple[str, ...] = dataclasses.field(default_factory=tuple)

        return make(frozen=True, order=True)(type("Own", (Stud,), {})) if inherits else Stud

    def told(answer: object) -> str:
        # An address and the name of the class differ, and a field names its own kind.
        return re.sub(r"0x[0-9a-f]+", "", repr(answer))

    left, right = fresh(ours), fresh(standard)
    assert told(ask(left)) == told(ask(right))
    assert [each.name for each in dataclasses.fields(left)] == ["length", "marks"]
    assert left(1.0) == left(1.0, ())
    assert dataclasses.is_dataclass(left)


def as_from_a_pickle(cls: Any) -> Any:
    """Give an instance that no `__init__` has made."""
    made = cls.__new__(cls)
    made.__dict__.update(length=1.0, marks=())
    return made


def test_several_threads_may_ask_first() -> None:
    for _ in range(50):
        kind = declared(ours)
        with ThreadPoolExecutor(4) as threads:
            made = list(threads.map(kind, [1.0] * 8))
        assert made == [kind(1.0)] * 8
