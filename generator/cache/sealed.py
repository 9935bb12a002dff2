"""Values as bytes that only this program's own key can have made, and that can do nothing.

A sealed value is a pickle behind a keyed digest. The digest covers the name it is kept by, so that
nothing can be changed, damaged or put in another's place; bytes whose digest is not right are not
looked at. Even with the right digest, only values of this program's own kinds are made: data
classes, enumerations, records, dates and arrays. No function can be called.
"""

import hmac
import pickle
import re
from dataclasses import is_dataclass
from enum import Enum, EnumMeta
from hashlib import blake2b
from io import BytesIO
from typing import Any

KEY_SIZE = 32
_HEAD = b"gapbook sealed value 1\n"
_DIGEST = 32
_ROOMS = re.compile(
    r"generator\.((quantities|reading|published|geometry|records|assessment|evidence|site|rendering)\."
    r"|(finished|gists|shares|glance)$)"
)
_OTHERS = frozenset({
    ("datetime", "date"),
    ("builtins", "frozenset"),
    ("builtins", "set"),
    ("fractions", "Fraction"),
    ("numpy", "ndarray"),
    ("numpy", "dtype"),
    ("numpy.core.multiarray", "_reconstruct"),
    ("numpy._core.multiarray", "_reconstruct"),
    ("numpy.core.multiarray", "scalar"),
    ("numpy._core.multiarray", "scalar"),
    ("numpy.core.numeric", "_frombuffer"),
    ("numpy._core.numeric", "_frombuffer"),
})  # fmt: skip


class NotSealed(Exception):
    """These bytes are not a value that was sealed with this key under this name."""


def seal(value: object, name: str, key: bytes) -> bytes:
    """Give a value as bytes, to be kept under a name."""
    body = pickle.dumps(value, protocol=5)
    return _HEAD + _mark(body, name, key) + body


def unseal(content: bytes, name: str, key: bytes) -> Any:
    """Give the value back; raise NotSealed if the bytes were not sealed so."""
    start = len(_HEAD) + _DIGEST
    body = memoryview(content)[start:]
    told = content[len(_HEAD) : start]
    if not content.startswith(_HEAD) or not hmac.compare_digest(told, _mark(body, name, key)):
        raise NotSealed(name)
    try:
        return _Values(BytesIO(body)).load()
    except Exception as cause:
        raise NotSealed(name) from cause


def _mark(body: bytes | memoryview, name: str, key: bytes) -> bytes:
    mark = blake2b(name.encode("utf-8") + b"\n", key=key, digest_size=_DIGEST)
    mark.update(body)
    return mark.digest()


_found: dict[tuple[str, str], Any] = {}
"""What was looked up and allowed; thousands of values name the same few kinds."""


class _Values(pickle.Unpickler):
    """Makes values of the program's own kinds and refuses to look up anything else."""

    def find_class(self, module: str, name: str) -> Any:
        found = _found.get((module, name))
        if found is None:
            found = _found[module, name] = self._allowed(module, name)
        return found

    def _allowed(self, module: str, name: str) -> Any:
        if (module, name) == ("builtins", "getattr"):
            return _member  # as early Pythons 3.11 write members of enumerations
        if (module, name) in _OTHERS:
            return super().find_class(module, name)
        if _ROOMS.match(module) and name.isidentifier():
            found = super().find_class(module, name)
            if isinstance(found, type) and _is_value(found):
                return found
        raise pickle.UnpicklingError(f"{module}.{name} is no value")


def _member(kind: object, name: str) -> Enum:
    """Give a member of an enumeration and nothing else that has a name."""
    if isinstance(kind, EnumMeta) and name in kind.__members__:
        return kind.__members__[name]
    raise pickle.UnpicklingError(f"{name} is no member of an enumeration")


def _is_value(kind: type) -> bool:
    return is_dataclass(kind) or issubclass(kind, Enum) or hasattr(kind, "model_fields")
