"""YAML as the guide writes it: plain groups, lists and texts that read back to the same texts."""

import re
from collections.abc import Mapping, Sequence
from typing import TypeAlias

Plain: TypeAlias = str | Mapping[str, "Plain"] | Sequence["Plain"]

_BARE = re.compile(r"[A-Za-z0-9][A-Za-z0-9 ._/°·ñ-]*\Z")
_WORDS_OF_YAML = frozenset({"yes", "no", "on", "off", "true", "false", "null", "y", "n"})
_NUMBER = re.compile(r"[0-9][0-9_.]*([eE][0-9]+)?\Z|0[xob][0-9A-Fa-f_]+\Z")


def to_yaml(value: Mapping[str, Plain]) -> str:
    """Write a group of fields as YAML.

    >>> print(to_yaml({"title": "Wide: low", "front": {"camber": "-1 deg"}}), end="")
    title: "Wide: low"
    front:
      camber: "-1 deg"
    """
    return "".join(f"{line}\n" for line in _lines(value, ""))


def _lines(value: Plain, margin: str) -> list[str]:
    lines: list[str] = []
    if isinstance(value, Mapping):
        for key, item in value.items():
            lines += _entry(f"{margin}{key}:", item, margin + "  ")
    elif not isinstance(value, str):
        for item in value:
            rows = _lines(item, margin + "  ")
            if isinstance(item, str):
                lines.append(f"{margin}- {scalar(item)}")
            elif rows:
                lines += [f"{margin}- {rows[0].lstrip()}", *rows[1:]]
            else:
                lines.append(f"{margin}- {_nothing(item)}")
    return lines


def _entry(head: str, item: Plain, margin: str) -> list[str]:
    if isinstance(item, str):
        return [f"{head} {scalar(item)}"]
    rows = _lines(item, margin)
    return [head, *rows] if rows else [f"{head} {_nothing(item)}"]


def _nothing(item: Plain) -> str:
    return "{}" if isinstance(item, Mapping) else "[]"


def scalar(text: str) -> str:
    r"""Write one text so that every YAML reader takes it for exactly this text.

    `yes`, `no` and dates are written bare, as members write them; the guide reads them as text.

    >>> print(scalar('8" wide'))
    "8\" wide"
    """
    is_word = text.lower() not in _WORDS_OF_YAML or text in ("yes", "no")
    if is_word and _BARE.match(text) and not _NUMBER.match(text) and text == text.strip():
        return text
    return '"' + "".join(_escaped(sign) for sign in text) + '"'


def _escaped(sign: str) -> str:
    if sign in '"\\':
        return "\\" + sign
    if sign == "\n":
        return "\\n"
    if sign == "\t":
        return "\\t"
    code = ord(sign)
    if code < 0x20 or 0x7F <= code < 0xA0 or code in (0x2028, 0x2029, 0xFEFF):
        return f"\\u{code:04x}"
    return sign
