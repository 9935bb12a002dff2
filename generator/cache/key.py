"""Where the cache lies, and the key its values are sealed with.

The key lies apart from the cache: who can write into the cache of a shared machine, or hand one
over, still cannot make values that this program takes. A build that is to take over the cache of
another machine is given the same key as text, kept as a secret of the publishing job alone.
"""

import os
import secrets
from collections.abc import Mapping
from contextlib import suppress
from hashlib import blake2b
from pathlib import Path

from generator.cache.sealed import KEY_SIZE

VARIABLE = "GAPBOOK_CACHE_KEY"
_NAME = "gapbook"
_FILE = "cache-key"


def default_folder(environment: Mapping[str, str]) -> Path | None:
    """Give the user's own cache folder; None where no home is known."""
    return _own(environment, "XDG_CACHE_HOME", ".cache", "LOCALAPPDATA")


def key_for(environment: Mapping[str, str]) -> bytes | None:
    """Give the key: from the secret given as text, or the user's own, made at the first use.

    None where there is no place for one.
    """
    given = environment.get(VARIABLE, "")
    if given:
        return blake2b(given.encode("utf-8"), digest_size=KEY_SIZE).digest()
    folder = _own(environment, "XDG_CONFIG_HOME", ".config", "APPDATA")
    if folder is None:
        return None
    try:
        return _kept(folder / _FILE)
    except OSError:
        return None


def _own(environment: Mapping[str, str], told: str, below: str, windows: str) -> Path | None:
    for name in (told, *((windows,) if os.name == "nt" else ())):
        place = environment.get(name, "")
        if place and Path(place).is_absolute():
            return Path(place) / _NAME
    home = environment.get("HOME", "")
    return Path(home) / below / _NAME if home and Path(home).is_absolute() else None


def _kept(path: Path) -> bytes:
    """Read the key of a file that is the user's alone, or make it."""
    with suppress(FileExistsError):
        path.parent.mkdir(parents=True, exist_ok=True)
        fresh = path.with_name(f"{path.name}.{os.getpid()}.{secrets.token_hex(4)}")
        if not path.exists():
            handle = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with os.fdopen(handle, "wb") as file:
                file.write(secrets.token_bytes(KEY_SIZE))
            # The first of two builds that begin together gives the key.
            try:
                os.link(fresh, path)
            finally:
                fresh.unlink()
    key = path.read_bytes()
    if len(key) != KEY_SIZE:
        raise OSError(f"{path} is no key")
    return key
