"""A filled-in issue form made a record: what can be read is read, and the rest is answered.

The text is a stranger's. Headings may have been edited, parts may be missing, a forge may have
added parts of a kind that did not exist when this was written; none of that stops anything.
"""

import re
from collections.abc import Mapping as MappingType

from generator.frozen import dataclass
from generator.quantities.misread import Misread
from generator.reading.fields import read_slug
from generator.reading.reader import inner_model
from generator.reading.source import Mapping, Node, Scalar, load
from generator.reading.text import shown
from generator.reading.writing import Plain, to_yaml
from generator.records.setup import Setup
from generator.review.escaping import code, words
from generator.review.forge_forms import asked_fields
from generator.site.field_kinds import kind_of

LONGEST = 128 * 1024
"""Characters; a forge takes about half of it."""

_HEADING = re.compile(r"###[ \t]+(\S.{0,80}?)[ \t]*\Z")
_COMMENT = re.compile(r"<!--.*?(?:-->|\Z)", re.DOTALL)
_EMPTY = frozenset({"", "_No response_", "None"})


@dataclass(frozen=True)
class Reported:
    """What came of an issue: the record's path and text, or None, and remarks for its author."""

    path: str | None
    text: str
    remarks: tuple[str, ...]


def reported(body: str) -> Reported:
    """Read the body of an issue. Never raises, whatever it holds."""
    if len(body) > LONGEST:
        return Reported(None, "", (f"this text has {len(body)} characters, at most {LONGEST}",))
    remarks: list[str] = []
    parts = _parts(body.replace("\r\n", "\n"), remarks)
    fields: dict[str, Plain] = {}
    for name in asked_fields():
        if name in parts:
            value = _value(name, parts[name], remarks)
            if value:
                fields[name] = value
    path = _path(fields, remarks)
    return Reported(path, to_yaml(fields) if path else "", tuple(remarks))


def answer(found: Reported) -> str:
    """Write the answer to an issue's author, in Markdown; their own words are shown as such."""
    lines = [f"- {words(remark)}" for remark in found.remarks]
    if found.path is None:
        head = "No record could be made of this yet. Edit the text above and it is read again."
    else:
        head = f"A record was made of this: {code(found.path)}."
        lines.append("- `gapbook check` says at which line something is missing or odd")
    return "\n".join([head, "", *lines]) + "\n"


def _parts(body: str, remarks: list[str]) -> MappingType[str, str]:
    """Cut a text at the headings of the form, but for those inside a fence."""
    found: dict[str, list[str]] = {}
    name, is_fenced = "", False
    for line in _COMMENT.sub("", body).split("\n"):
        is_fenced ^= line.startswith("```")
        heading = None if is_fenced else _HEADING.match(line)
        if heading is None:
            found.setdefault(name, []).append(line)
            continue
        name = heading[1].strip().lower()
        if name not in asked_fields():
            remarks.append(
                f"`{shown(name, 40)}` is no part of the form; what it holds was not read"
            )
        elif name in found:
            remarks.append(f"`{name}` stands there twice; the first one counts")
            name = f"{name} again"
    return {name: "\n".join(lines).strip() for name, lines in found.items()}


def _value(name: str, text: str, remarks: list[str]) -> Plain:
    info = Setup.model_fields[name]
    is_list = kind_of(info).words.startswith("list")
    if text in _EMPTY:
        return ""
    if inner_model(info) is None and not is_list:
        return text
    inside = "\n".join(line for line in text.split("\n") if not line.startswith("```"))
    indented = "\n".join(f"  {line}" for line in inside.split("\n"))
    source, faults = load("form", f"{name}:\n{indented}\n".encode("utf-8", "replace"))
    if source is None:
        for fault in faults:
            fix = f"; {fault.fix}" if fault.fix else ""
            at = fault.place.line - 1
            remarks.append(f"`{name}`, line {at}, cannot be read: {fault.headline}{fix}")
        return ""
    value = _filled(source.root.entries[name])
    if is_list and isinstance(value, str) and value:
        remarks.append(f"`{name}` is a list: one item a line, after `- `")
        return ""
    return value


def _filled(node: Node) -> Plain:
    """Give what was filled in; fields left empty are left out."""
    if isinstance(node, Scalar):
        return node.text.strip()
    if isinstance(node, Mapping):
        fields = {name: _filled(item) for name, item in node.entries.items()}
        return {name: item for name, item in fields.items() if item}
    return [item for item in map(_filled, node.items) if item]


def _path(fields: MappingType[str, Plain], remarks: list[str]) -> str | None:
    """Give the path of the new record; None, and what to mend, where it has no safe name."""
    names = []
    for field in ("chassis", "car", "date"):
        value = fields.get(field, "")
        try:
            names.append(read_slug(value if isinstance(value, str) else ""))
        except Misread as trouble:
            fix = f", such as `{trouble.fix}`" if trouble.fix else ""
            told = shown(value, 40) if isinstance(value, str) else "a group"
            remarks.append(f"`{field}` is `{told}`: wanted are {trouble.expected}{fix}")
    if len(names) < 3:
        return None
    chassis, car, day = names
    return f"setups/{chassis}/{car[:60].rstrip('-')}-{day[:10].rstrip('-')}.yaml"
