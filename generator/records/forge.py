"""Where a club keeps its records: the forge, its address and its branch."""

from typing import Annotated

from generator.reading.fields import Line, Link, Model, described, word
from generator.records.words import ForgeKind


class Forge(Model):
    """A code forge that takes changes as pull or merge requests."""

    kind: Annotated[ForgeKind, word(ForgeKind)] = described(
        "its kind", example="forgejo", required=True
    )
    address: Link = described(
        "address of the repository", example="https://forge.example.org/club/guide", required=True
    )
    branch: Line = described("the branch that is published", example="main", required=True)
