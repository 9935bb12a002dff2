"""What a YAML parser has against a line, in the guide's words: parsers speak of tokens."""

from generator.frozen import dataclass


@dataclass(frozen=True)
class YamlSlip:
    """One thing a parser complains of: a piece of its sentence, our code, words and fix."""

    sign: str
    words: str
    fix: str
    code: str = "Y04"


_OTHER = YamlSlip(
    "", "it does not follow the rules of YAML", "compare this line and the one above it with an "
    "example record",
)  # fmt: skip

_SLIPS = (
    YamlSlip(
        "mapping values are not allowed", "a colon stands where no value can begin",
        "put a text that holds a colon into quotes, or line the field up with its group",
    ),
    YamlSlip(
        "unexpected end of stream", "a quote or bracket is opened and never closed",
        "close the quote or bracket",
    ),
    YamlSlip(
        "could not find expected ':'", "this line has no colon after a name",
        "write a field as `name: value`",
    ),
    YamlSlip(
        "did not find expected key",
        "a field has no name, or does not line up with the others of its group",
        "give all fields of a group the same number of blanks, and put a text with quotes or "
        "brackets in it into quotes",
    ),
    YamlSlip(
        "did not find expected '-'", "an item does not line up with the others of its list",
        "line the items of a list up under each other",
    ),
    YamlSlip(
        "block sequence entries are not allowed", "a list begins on the line of its name",
        "begin the list on the next line",
    ),
    YamlSlip(
        "did not find expected ',' or", "a comma or a closing bracket is missing",
        "put a comma between the parts, and close the bracket",
    ),
    YamlSlip(
        "did not find expected node content", "a value is missing before this sign",
        "write the value, or put a text that begins with a sign into quotes",
    ),
    YamlSlip(
        "cannot start any token", "a text begins with a sign that YAML keeps for itself",
        "put the text into quotes",
    ),
    YamlSlip(
        "unknown escape character", "a backslash stands in double quotes before another letter",
        "use single quotes, or write the backslash twice",
    ),
    YamlSlip(
        "escape code", "a backslash code names a character that does not exist",
        "write the character itself",
    ),
    YamlSlip(
        "hexdecimal number", "a backslash code ends too early", "write the character itself",
    ),
    YamlSlip(
        "unexpected document indicator", "a line of three hyphens or dots stands inside a value",
        "close the quote or bracket above it",
    ),
    YamlSlip(
        "expected <document start>", "this line belongs to no field",
        "give it the blanks of its group",
    ),
    YamlSlip("incompatible", "a YAML directive stands here", "leave the line out", "Y10"),
    YamlSlip("directive", "a percent sign begins this line", "leave the line out", "Y10"),
    YamlSlip("tag", "a tag stands here", "leave the tag out", "Y07"),
    YamlSlip(
        "alphabetic or numeric", "an `&` or `*` begins this text", "put the text into quotes",
        "Y06",
    ),
    YamlSlip("nesting", "lists and groups are nested too deep", "remove the surplus levels", "Y12"),
)  # fmt: skip


def plainly(problem: str) -> YamlSlip:
    """Give the guide's words for a parser's sentence.

    >>> plainly("found unexpected end of stream").fix
    'close the quote or bracket'
    """
    return next((slip for slip in _SLIPS if slip.sign in problem), _OTHER)
