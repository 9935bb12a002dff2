"""Names that the translation of the rules treats in a way of their own."""

RESERVED = frozenset({
    "arguments", "await", "case", "catch", "class", "const", "debugger", "default", "delete", "do",
    "enum", "eval", "export", "extends", "function", "implements", "interface", "let", "new",
    "package", "private", "protected", "public", "py", "static", "super", "switch", "this", "throw",
    "typeof", "var", "void",
})  # fmt: skip
"""Words that are no names of variables in JavaScript, and the name of the script's library."""

METHODS = frozenset({
    "add", "append", "casefold", "count", "discard", "encode", "endswith", "extend", "find",
    "fromkeys", "get", "index", "insert", "is_integer", "isalnum", "isalpha", "isascii",
    "isdecimal", "isdigit", "isdisjoint", "isoformat", "isprintable", "items", "join", "keys",
    "lower", "lstrip", "partition", "removeprefix", "removesuffix", "replace", "reverse", "rfind",
    "rpartition", "rstrip", "sort", "split", "splitlines", "startswith", "strip", "title",
    "translate", "update", "upper", "values",
})  # fmt: skip
"""Methods of Python's texts, numbers, lists, sets and dictionaries."""

FOREIGN = {
    ("generator.published.tables", "rows"): "rows",
    ("generator.published.tables", "_document"): "document",
    ("generator.reading.fields", "declared"): "declared",
    ("generator.reading.pruning", "inner_model"): "inner_model",
    ("generator.reading.reader", "inner_model"): "inner_model",
}
"""What reads files or asks pydantic; the script has it from the data it is given."""
