"""The JSON Schema of a table's JSON file, from its columns."""

from generator.site.data.columns import Column, Kind, Row, Table
from generator.site.data.writing import VERSION

DRAFT = "https://json-schema.org/draft/2020-12/schema"

_TYPES = {
    Kind.TEXT: "string",
    Kind.TEXTS: "array",
    Kind.NUMBER: "number",
    Kind.COUNT: "integer",
    Kind.DAY: "string",
    Kind.YES: "boolean",
}
_DAY = "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"


def table_schema(table: Table[Row], address: str) -> dict[str, object]:
    """Describe the JSON file of a table; its columns are those of the CSV file too."""
    properties: dict[str, object] = {each.name: column_schema(each) for each in table.columns}
    if table.as_written is not None:
        properties["record"] = {
            "type": "object",
            "description": "the record as written, every value as typed",
        }
    row = {
        "type": "object",
        "description": table.row,
        "properties": properties,
        "required": sorted(properties),
        "additionalProperties": False,
    }
    head = {
        "guide": {"type": "string", "description": "title of the guide"},
        "invented": {"type": "boolean", "description": "true if nothing in it is real"},
        "schema": {"const": address},
        "table": {"const": table.name},
        "version": {"const": VERSION},
        "rows": {"type": "array", "items": row},
    }
    return {
        "$schema": DRAFT,
        "$id": address,
        "title": table.title,
        "type": "object",
        "properties": head,
        "required": sorted(head),
        "additionalProperties": False,
    }


def column_schema(column: Column[Row]) -> dict[str, object]:
    """Describe one column."""
    kind = _TYPES[column.kind]
    unit = f", in {column.unit}" if column.unit not in ("", "1") else ""
    schema: dict[str, object] = {
        "type": [kind, "null"] if column.may_lack else kind,
        "description": f"{column.meaning}{unit}",
    }
    if column.kind is Kind.TEXTS:
        schema["items"] = {"type": "string"}
    if column.kind is Kind.DAY:
        schema["pattern"] = _DAY
    if column.kind is Kind.COUNT:
        schema["minimum"] = 0
    if column.choices:
        choices: list[str | None] = list(column.choices)
        schema["enum"] = [*choices, None] if column.may_lack else choices
    return schema
