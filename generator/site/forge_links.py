"""Addresses at the club's forge for one file: to see it, to change it, to see its history.

The repository is taken to have the content folder's files at its top.
"""

from urllib.parse import quote

from generator.frozen import dataclass
from generator.records.forge import Forge
from generator.records.words import ForgeKind

_SEE = {
    ForgeKind.GITHUB: "blob/{branch}",
    ForgeKind.GITLAB: "-/blob/{branch}",
    ForgeKind.FORGEJO: "src/branch/{branch}",
}
_EDIT = {
    ForgeKind.GITHUB: "edit/{branch}",
    ForgeKind.GITLAB: "-/edit/{branch}",
    ForgeKind.FORGEJO: "_edit/{branch}",
}
_HISTORY = {
    ForgeKind.GITHUB: "commits/{branch}",
    ForgeKind.GITLAB: "-/commits/{branch}",
    ForgeKind.FORGEJO: "commits/branch/{branch}",
}
_NEW = {
    ForgeKind.GITHUB: "new/{branch}",
    ForgeKind.GITLAB: "-/new/{branch}",
    ForgeKind.FORGEJO: "_new/{branch}",
}
_ASKED = {
    ForgeKind.GITHUB: ("filename", "value"),
    ForgeKind.GITLAB: ("file_name", "content"),
    ForgeKind.FORGEJO: ("filename", "value"),
}
_ISSUE = {
    ForgeKind.GITHUB: "issues/new?title=",
    ForgeKind.GITLAB: "-/issues/new?issue[title]=",
    ForgeKind.FORGEJO: "issues/new?title=",
}


@dataclass(frozen=True)
class ForgeLinks:
    """Where one file of the guide lives at the forge."""

    path: str
    see: str
    edit: str
    history: str
    report: str


def forge_links(forge: Forge, path: str) -> ForgeLinks:
    """Give the addresses of one file, by its path below the content folder."""
    return ForgeLinks(
        path,
        see=f"{_at(forge, _SEE)}/{quote(path)}",
        edit=f"{_at(forge, _EDIT)}/{quote(path)}",
        history=f"{_at(forge, _HISTORY)}/{quote(path)}",
        report=f"{forge.address}/{_ISSUE[forge.kind]}{quote(path, safe='')}",
    )


def new_file(forge: Forge, folder: str) -> str:
    """Give the address at which a new file of a folder is begun."""
    return f"{_at(forge, _NEW)}/{quote(folder)}"


def filled_in(forge: Forge) -> tuple[str, str, str]:
    """Give the address of a new file, and what its name and its text are called in that address.

    The names are those of the forges' own pages, from memory; where one is not known to a forge,
    its page opens empty and the text is pasted.
    """
    return f"{_at(forge, _NEW)}", *_ASKED[forge.kind]


def _at(forge: Forge, forms: dict[ForgeKind, str]) -> str:
    return f"{forge.address}/{forms[forge.kind].format(branch=quote(forge.branch))}"
