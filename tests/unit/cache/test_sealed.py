"""Sealed values: given back as they were, refused if anything of them is another's, never run."""

import os
import pickle
from datetime import date
from hashlib import blake2b
from pathlib import Path
from time import time

import pytest

from generator.cache.key import VARIABLE, default_folder, key_for
from generator.cache.program import program_of
from generator.cache.sealed import NotSealed, seal, unseal
from generator.cache.store import Store
from generator.quantities.units import Dimension
from generator.reading.fault import Place

KEY = bytes(range(32))
HEAD = b"gapbook sealed value 1\n"


def test_a_value_comes_back() -> None:
    value = (Place("a.yaml", 3, 4), Dimension.LENGTH, date(2026, 1, 2), {"x": 1.5, "y": None})
    assert unseal(seal(value, "name", KEY), "name", KEY) == value


def test_another_name_or_key_or_bit_is_refused() -> None:
    sealed = seal((1, 2), "name", KEY)
    changed = sealed[:-2] + bytes([sealed[-2] ^ 1]) + sealed[-1:]
    for content, name, key in (
        (sealed, "other", KEY), (sealed, "name", bytes(32)), (changed, "name", KEY),
        (sealed[:20], "name", KEY), (b"", "name", KEY),
    ):  # fmt: skip
        with pytest.raises(NotSealed):
            unseal(content, name, key)


class _Runs:
    """What a pickle can be made to do when it is read: run a command."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def __reduce__(self) -> tuple[object, tuple[str]]:
        return os.mkdir, (str(self.path),)


def test_even_with_the_key_nothing_is_run(tmp_path: Path) -> None:
    body = pickle.dumps(_Runs(tmp_path / "made"))
    mark = blake2b(b"name\n" + body, key=KEY, digest_size=32).digest()
    with pytest.raises(NotSealed):
        unseal(HEAD + mark + body, "name", KEY)
    assert not (tmp_path / "made").exists()
    pickle.loads(body)
    assert (tmp_path / "made").exists(), "the body does run where it is trusted"


class _Asks:
    """What asks for the attribute of a thing, as some Pythons write members of enumerations."""

    def __init__(self, thing: object, name: str) -> None:
        self.asked = thing, name

    def __reduce__(self) -> tuple[object, tuple[object, str]]:
        return getattr, self.asked


def test_members_come_back_as_every_python_writes_them_and_no_other_attribute() -> None:
    assert unseal(seal(_Asks(Dimension, "LENGTH"), "name", KEY), "name", KEY) is Dimension.LENGTH
    for thing, name in ((Dimension, "__subclasses__"), (Dimension, "mro"), (Place, "__init__")):
        with pytest.raises(NotSealed):
            unseal(seal(_Asks(thing, name), "name", KEY), "name", KEY)


def test_the_key_is_made_once_and_is_the_users_alone(tmp_path: Path) -> None:
    environment = {"XDG_CONFIG_HOME": str(tmp_path)}
    first = key_for(environment)
    assert first is not None
    assert len(first) == 32
    assert key_for(environment) == first
    (file,) = (tmp_path / "gapbook").iterdir()
    assert file.stat().st_mode & 0o077 == 0
    assert key_for({**environment, VARIABLE: "a secret"}) != first


def test_without_a_home_there_is_neither_key_nor_folder() -> None:
    assert key_for({}) is None
    assert default_folder({}) is None
    assert default_folder({"HOME": "relative"}) is None


def test_the_program_is_another_when_a_template_changes(tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    page.write_text("<p>one", "utf-8")
    before = program_of((tmp_path,), ())
    page.write_text("<p>two", "utf-8")
    assert program_of((tmp_path,), ()) != before


def test_a_changed_file_of_a_store_is_not_given(tmp_path: Path) -> None:
    store = Store(tmp_path, KEY)
    name = store.keep_file(b"a page")
    assert store.file(name) == b"a page"
    Path(store.path_of_file(name)).write_bytes(b"a pagf")
    assert store.file(name) is None
    assert store.told


def test_pruning_is_due_an_hour_after_the_last_time(tmp_path: Path) -> None:
    store = Store.opened(tmp_path, KEY)
    assert store is not None
    kept = store.keep_file(b"o" * 100)
    tag = tmp_path / "CACHEDIR.TAG"
    store.prune_if_due(0)
    assert store.file(kept) is not None
    os.utime(tag, (time() - 3700.0, time() - 3700.0))
    store.prune_if_due(0)
    assert store.file(kept) is None
    assert time() - tag.stat().st_mtime < 60.0


def test_pruning_keeps_what_was_used_last(tmp_path: Path) -> None:
    store = Store(tmp_path, KEY)
    old, new = store.keep_file(b"o" * 100), store.keep_file(b"n" * 100)
    os.utime(store.path_of_file(old), (1, 1))
    store.prune(150)
    assert store.file(old) is None
    assert store.file(new) is not None
