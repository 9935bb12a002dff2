"""What holds for all tests: what a build keeps lies in a folder of this run alone."""

import os
from collections.abc import Iterator

import pytest
from hypothesis import settings

import generator  # noqa: F401 — says how many threads numpy may have, before numpy is loaded

# How long one example takes depends on who else is on the machine; tests of time measure their own.
settings.register_profile("any machine", deadline=None)
settings.load_profile("any machine")


@pytest.fixture(scope="session", autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Give the builds of a run one cache, so that what one has made the next need not make again.

    Tests that hold builds against each other give each its own, or none.
    """
    folder = tmp_path_factory.mktemp("kept")
    told = {"XDG_CACHE_HOME": str(folder / "cache"), "XDG_CONFIG_HOME": str(folder / "config")}
    before = {name: os.environ.get(name) for name in told}
    os.environ.update(told)
    yield
    for name, value in before.items():
        if value is None:
            os.environ.pop(name, None)
        else:
            os.environ[name] = value
