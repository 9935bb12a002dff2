"""What holds for all tests: one cache for the builds of a run, and all processors for a whole run.

What several processes of a run need, such as the demo's site, one of them makes and all use.
"""

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from hypothesis import settings

from generator.workers import cores

try:
    import fcntl
except ImportError:  # Windows: no lock that ends with its process
    fcntl = None  # type: ignore[assignment]

Make = Callable[[Path], object]
MOST = 4


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers(config: pytest.Config) -> int:
    """Run all tests in as many processes as there are processors, and named ones in this one."""
    is_whole = config.args_source is pytest.Config.ArgsSource.TESTPATHS
    return min(cores(), MOST) if is_whole and fcntl and cores() > 1 else 0


@contextmanager
def alone(lock: Path) -> Iterator[None]:
    """Wait until no other process holds the lock; it ends with the process that holds it."""
    with lock.open("a") as file:
        if fcntl:
            fcntl.flock(file, fcntl.LOCK_EX)
        yield


@pytest.fixture(scope="session")
def common(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give the folder that all processes of this run share."""
    own = tmp_path_factory.getbasetemp()
    return own.parent if "PYTEST_XDIST_WORKER" in os.environ else own


@pytest.fixture(scope="session")
def once(common: Path) -> Callable[[str, Make], Path]:
    """Make a folder of a name that is not there yet; who asks meanwhile waits for it.

    What makes it must leave no folder where it fails.
    """

    def made(name: str, make: Make) -> Path:
        folder = common / name
        with alone(common / f"{name}.lock"):
            if not folder.exists():
                make(folder)
        assert folder.is_dir()
        return folder

    return made


# How long one example takes depends on who else is on the machine; tests of time measure their own.
settings.register_profile("any machine", deadline=None)
settings.load_profile("any machine")


@pytest.fixture(scope="session", autouse=True)
def _own_cache(common: Path) -> Iterator[None]:
    """Give the builds of a run one cache, so that what one has made the next need not make again.

    Tests that hold builds against each other give each its own, or none.
    """
    folder = common / "kept"
    told = {"XDG_CACHE_HOME": str(folder / "cache"), "XDG_CONFIG_HOME": str(folder / "config")}
    before = {name: os.environ.get(name) for name in told}
    os.environ.update(told)
    yield
    for name, value in before.items():
        if value is None:
            os.environ.pop(name, None)
        else:
            os.environ[name] = value
