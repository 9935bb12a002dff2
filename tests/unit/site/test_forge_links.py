"""Addresses at the forge, in the three forms of which the address shapes are known."""

import pytest

from generator.records.forge import Forge
from generator.records.words import ForgeKind
from generator.site.forge_links import forge_links, new_file

PATH = "setups/a/b.yaml"


def forge(kind: ForgeKind) -> Forge:
    return Forge.model_validate(
        {"kind": kind.value, "address": "https://forge.example.org/club/guide", "branch": "main"}
    )


@pytest.mark.parametrize(
    ("kind", "see", "edit"),
    [
        # the forges' own address forms, from memory
        (ForgeKind.GITHUB, "blob/main", "edit/main"),
        (ForgeKind.GITLAB, "-/blob/main", "-/edit/main"),
        (ForgeKind.FORGEJO, "src/branch/main", "_edit/main"),
    ],
)
def test_each_forge_has_its_own_addresses(kind: ForgeKind, see: str, edit: str) -> None:
    links = forge_links(forge(kind), PATH)
    assert links.see == f"https://forge.example.org/club/guide/{see}/{PATH}"
    assert links.edit == f"https://forge.example.org/club/guide/{edit}/{PATH}"
    assert links.path == PATH


@pytest.mark.parametrize("kind", list(ForgeKind))
def test_every_address_stays_at_the_forge(kind: ForgeKind) -> None:
    links = forge_links(forge(kind), PATH)
    addresses = (links.see, links.edit, links.history, links.report, new_file(forge(kind), "x"))
    for address in addresses:
        assert address.startswith("https://forge.example.org/club/guide/")
        assert " " not in address


def test_an_odd_branch_is_escaped() -> None:
    odd = Forge.model_validate(
        {"kind": "github", "address": "https://forge.example.org/a", "branch": 'a b"<c>'}
    )
    assert '"' not in forge_links(odd, PATH).see
    assert "<" not in forge_links(odd, PATH).see
