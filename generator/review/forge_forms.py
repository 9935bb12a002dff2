"""What a forge asks of a member: issue forms and request templates, made from the fields.

A field has its name, help and example in one place, the model; so the forms cannot ask for a field
that no record has, and the reader of filled-in forms (`issue.py`) knows every heading of theirs.
"""

import re
from collections.abc import Iterator, Mapping

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from generator.reading.fields import declared
from generator.reading.reader import inner_model
from generator.reading.writing import Plain, scalar, to_yaml
from generator.records.setup import Dispute, Setup
from generator.site.field_kinds import FieldKind, kind_of

LATER = ("confirmations", "corrections", "disputes", "supersedes", "withdrawn", "photos")
"""What happens to a record after it was reported, and what lies beside it: an issue has neither."""

_NO_TEXT_ELSEWHERE = re.compile(r"^(\s*(?:- |[a-z]+: ))(yes|no|[0-9-]+)$", re.MULTILINE)
_MADE = "# Made by `gapbook forms` from the fields of a record: change those, then make it anew.\n"
_BEFORE = (
    "You do not need git for this. Fill in what you measured, each number with its unit as you "
    "read it: `9 in`, `3/8 in`, `5 mm`, `84 lb ft`, `-1.5 deg`. Leave out what you did not "
    "measure; unknown is a good answer, and it is never counted as clear. Leave the headings as "
    "they are: a program reads them.\n\n"
    "Wheels, springs, brakes and steering can kill. The maker's data for the car, local codes and "
    "licensed practice come before anything in this guide."
)
_AFTER = (
    "Photographs carry the place where they were taken. Add them only after their metadata was "
    "removed, and never with a number plate or a face."
)
_DISPUTE = (
    "Say what you found, where the record says something else. Nobody is blamed: cars differ, and "
    "rulers do too. If it touches something that steers or brakes, do not drive the car."
)


def forge_files() -> Mapping[str, str]:
    """Give all files that are made from the fields, by path from the top of the repository."""
    record = _form("Report a setup", "What you fitted, measured, rubbed and drove", "setup", [
        _markdown(_BEFORE), *_elements(Setup, LATER), _markdown(_AFTER),
    ])  # fmt: skip
    dispute = _form("Something is wrong", "A record says something else than you found", "dispute",
        [_markdown(_DISPUTE), _record_element(), *_elements(Dispute, ("settled",))],
    )  # fmt: skip
    return {
        ".github/ISSUE_TEMPLATE/record.yml": record,
        ".github/ISSUE_TEMPLATE/dispute.yml": dispute,
        ".github/ISSUE_TEMPLATE/config.yml": _MADE + "blank_issues_enabled: true\n",
        ".github/pull_request_template.md": _request(),
        ".gitlab/issue_templates/record.md": _as_markdown(Setup, _BEFORE, LATER),
        ".gitlab/merge_request_templates/default.md": _request(),
    }


def asked_fields() -> tuple[str, ...]:
    """Name the fields of a setup that its form asks for, in order."""
    return tuple(name for name in Setup.model_fields if name not in LATER)


def skeleton(model: type[BaseModel], margin: str = "") -> str:
    """Write the fields of a group with nothing in them, and an example behind each.

    >>> from generator.records.setup import Withdrawal
    >>> print(skeleton(Withdrawal), end="")
    date:  # 2025-09-01
    reason:  # the car had other hubs
    """
    lines = []
    for name, info in model.model_fields.items():
        inner = inner_model(info)
        is_list = kind_of(info).words.startswith("list")
        if inner is not None and not is_list:
            lines.append(f"{margin}{name}:\n{skeleton(inner, margin + '  ')}")
        elif inner is None:
            lines.append(f"{margin}{name}:  # {_hint(info)}\n")
    return "".join(lines)


def _hint(info: FieldInfo) -> str:
    kind = kind_of(info)
    is_list = kind.words.startswith("list")
    if kind.choices:
        return ("some of, in [ ]: " if is_list else "") + " | ".join(kind.choices)
    example = declared(info).example
    return f"[{example}]" if is_list else example


def _form(name: str, does: str, label: str, body: list[dict[str, Plain]]) -> str:
    form: dict[str, Plain] = {
        "name": name, "description": does, "title": f"{name}: ", "labels": [label], "body": body,
    }  # fmt: skip
    # Other readers of YAML take some bare words for no text; and one value of a form is no text.
    text = _NO_TEXT_ELSEWHERE.sub(r'\1"\2"', to_yaml(form))
    return _MADE + text.replace('required: "true"', "required: true")


def _markdown(text: str) -> dict[str, Plain]:
    return {"type": "markdown", "attributes": {"value": text}}


def _record_element() -> dict[str, Plain]:
    attributes = {"label": "record", "description": "the address of the page, or its file"}
    return {
        "type": "input", "id": "record", "attributes": attributes,
        "validations": {"required": "true"},
    }  # fmt: skip


def _elements(model: type[BaseModel], skip: tuple[str, ...]) -> Iterator[dict[str, Plain]]:
    for name, info in model.model_fields.items():
        if name not in skip:
            yield _element(name, info)


def _element(name: str, info: FieldInfo) -> dict[str, Plain]:
    """Ask for one field: one line, one of a few words, a longer text, or a group as YAML."""
    kind, says = kind_of(info), declared(info)
    attributes: dict[str, Plain] = {"label": name, "description": _described(kind, says.help)}
    element: dict[str, Plain] = {"id": name, "attributes": attributes}
    is_needed = info.is_required() and kind.words != "group"
    rules: dict[str, Plain] = {"validations": {"required": "true"}} if is_needed else {}
    text = _text_of(name, info)
    if text:
        attributes.update({"value": text, "render": "yaml"})
        return {"type": "textarea", **element, **rules}
    options = kind.choices or (("yes", "no") if kind.words == "yes or no" else ())
    if options:
        attributes["options"] = list(options)
        return {"type": "dropdown", **element, **rules}
    if says.example:
        attributes["placeholder"] = says.example
    is_long = kind.words.startswith("longer text")
    return {"type": "textarea" if is_long else "input", **element, **rules}


def _text_of(name: str, info: FieldInfo) -> str:
    """Give the text that a field for a group or a list begins with; empty for single values."""
    inner = inner_model(info)
    if not kind_of(info).words.startswith("list"):
        return skeleton(inner) if inner is not None else ""
    if inner is None:
        return f"# - {declared(info).example}\n"
    examples = [
        f"{field}: {scalar(declared(each).example)}"
        for field, each in inner.model_fields.items()
        if each.is_required() or field in ("tool", "side")
    ]
    return (
        f"# one line each, as this one without the sign before it\n# - {{{', '.join(examples)}}}\n"
    )


def _described(kind: FieldKind, help_text: str) -> str:
    return f"{help_text} ({kind.words})" if kind.words not in ("group", "one of") else help_text


def _request() -> str:
    needed = [name for name, info in Setup.model_fields.items() if info.is_required()]
    return (
        "<!-- Made by `gapbook forms`. What you write here helps; the report below counts. -->\n\n"
        "What this changes, and why:\n\n"
        "- [ ] `gapbook check` finds no error in my files\n"
        f"- [ ] the record has {', '.join(f'`{name}`' for name in needed)}\n"
        "- [ ] what I did not check stands under `not_checked`, and I left out what I do not know\n"
        "- [ ] numbers are as I read them, with their unit, and were measured by me or say by "
        "whom\n"
        "- [ ] no photograph shows a place, a plate or a face\n\n"
        "A program adds a report of what this changes in the guide: limits, verdicts, flags. A "
        "maintainer may ask for one more measurement.\n"
    )


def _as_markdown(model: type[BaseModel], before: str, skip: tuple[str, ...]) -> str:
    """Write a form for a forge without forms: the same headings, to be filled in below."""
    parts = ["<!-- Made by `gapbook forms` from the fields of a record. -->", before]
    for name, info in model.model_fields.items():
        if name in skip:
            continue
        text = _text_of(name, info)
        told = f"<!-- {declared(info).help}{'' if text else f', such as: {_hint(info)}'} -->"
        parts.append(f"### {name}\n\n{told}" + (f"\n\n```yaml\n{text}```" if text else ""))
    return "\n\n".join(parts) + "\n"
