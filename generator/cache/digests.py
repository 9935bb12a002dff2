"""Names of things by their content: one digest of several parts, none running into the next."""

import hashlib
from collections.abc import Iterable

_SIZE = 20


def digest(*parts: str | bytes) -> str:
    """Give one name for several parts; each is preceded by its length.

    >>> digest("ab", "c") == digest("a", "bc")
    False
    """
    return digest_of(parts)


def digest_of(parts: Iterable[str | bytes]) -> str:
    """Give one name for any number of parts."""
    state = hashlib.blake2b(digest_size=_SIZE)
    for part in parts:
        content = part.encode("utf-8", "surrogatepass") if isinstance(part, str) else part
        state.update(len(content).to_bytes(8, "big"))
        state.update(content)
    return state.hexdigest()
