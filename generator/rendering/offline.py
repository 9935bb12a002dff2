"""What lets the guide be installed and read without a network: its worker, lists, manifest, icon.

The worker keeps a file only if its digest is the one written here, so that the cache of an edition
never holds a file of another. `LIMIT` and all behaviour are in templates/worker/worker.js.
"""

import hashlib
import json
from collections.abc import Iterable, Mapping
from pathlib import Path, PurePosixPath

from generator.rendering.manifest import Artifact, Kept
from generator.rendering.scripts import without_remarks
from generator.rendering.stylesheet import Asset, named_by_content
from generator.site import urls
from generator.site.guide import Guide

_DIGITS = 16
"""Hexadecimal digits of a digest: the worker compares as many."""
_REST = "rest"
_CORE = (urls.HOME, urls.OFFLINE, urls.WEB_MANIFEST, urls.ICON)
_KEPT = (".html", ".json", ".svg")
_NEVER = (f"{urls.DATA_FOLDER}/", "feeds/")
_OF_CHASSIS = ("setups", "compare")
_PAPER, _INK = "#f7f6f1", "#1d2b38"


def install_files(guide: Guide, folder: Path) -> tuple[Artifact, ...]:
    """Give the web manifest and the icon, by which a phone can put the guide on its start page."""
    manifest = {
        "name": guide.club.title,
        "short_name": guide.club.title[:24],
        "description": f"Wheel and tyre fitment of the {guide.club.name}.",
        "lang": "en",
        "start_url": urls.HOME,
        "scope": "./",
        "display": "minimal-ui",
        "background_color": _PAPER,
        "theme_color": _INK,
        "icons": [
            {"src": urls.ICON, "type": "image/svg+xml", "sizes": "any", "purpose": "any maskable"}
        ],
    }
    icon = (folder / "worker" / "icon.svg").read_bytes()
    text = json.dumps(manifest, ensure_ascii=False, indent=1) + "\n"
    return (
        Artifact(PurePosixPath(urls.WEB_MANIFEST), text.encode("utf-8")),
        Artifact(PurePosixPath(urls.ICON), icon),
    )


def worker_files(
    guide: Guide, artifacts: Iterable[Artifact | Kept], folder: Path
) -> tuple[Artifact, ...]:
    """Give the worker of this edition, the lists of its files, and the switch that ends workers.

    Where the club wants none, the worker is one that clears what an earlier one kept, and goes.
    """
    digests = {each.entry.path: each.entry.sha256[:_DIGITS] for each in artifacts}
    body = without_remarks((folder / "worker" / "worker.js").read_text("utf-8"))
    is_on = guide.club.offline is not False
    version = _digest(_json([sorted(digests.items()), body, is_on]).encode("utf-8"))
    core = {path: value for path, value in digests.items() if _is_core(path)}
    lists = {name: _list(name, files) for name, files in _parts(guide, digests, core).items()}
    named = {
        name: {"path": f"offline/{asset.name}", "hash": _digest(asset.body)}
        for name, asset in lists.items()
    }
    head = (
        f"const VERSION = {_json(version)};\nconst IS_ON = {_json(is_on)};\n"
        f"const CORE = {_json(core)};\nconst LISTS = {_json(named)};\n"
    )
    switch = {"worker": "on" if is_on else "off", "version": version}
    return (
        Artifact(PurePosixPath(urls.WORKER), (head + body).encode("utf-8")),
        Artifact(PurePosixPath(urls.WORKER_SWITCH), (_json(switch) + "\n").encode("utf-8")),
        *(Artifact(PurePosixPath(f"offline/{asset.name}"), asset.body) for asset in lists.values()),
    )


def _parts(
    guide: Guide, digests: Mapping[str, str], core: Mapping[str, str]
) -> Mapping[str, Mapping[str, str]]:
    """Sort the files that may be kept: those of each chassis, and the rest.

    The pages of a chassis are in its own list, to be kept together, and among the rest, where the
    worker looks for a page by its address.
    """
    names = [each.id for each in guide.chassis() if each.id != _REST]
    parts: dict[str, dict[str, str]] = {name: {} for name in (*names, _REST)}
    for path, digest in digests.items():
        if path in core or not path.endswith(_KEPT) or path.startswith(_NEVER):
            continue
        folder, _, below = path.partition("/")
        owner = below.partition("/")[0]
        if folder in _OF_CHASSIS and owner in parts and owner != _REST:
            parts[owner][path] = digest
        else:
            parts[_REST][path] = digest
    for name in names:
        addresses = (urls.chassis, urls.mock_up, urls.limit_history, urls.comparison, urls.trial)
        own = tuple(address(name) for address in addresses)
        for path in (*own, urls.live("facts"), urls.live(name), urls.live(f"{name}.starts")):
            if path in digests:
                parts[name][path] = digests[path]
    return parts


def _is_core(path: str) -> bool:
    return path in _CORE or path.startswith("assets/")


def _list(name: str, files: Mapping[str, str]) -> Asset:
    return named_by_content(name, ".json", _json(dict(sorted(files.items()))).encode("utf-8"))


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()[:_DIGITS]


def _json(value: object) -> str:
    """Write a value as JSON that can stand in a script.

    >>> _json({"a": "é"}).isascii()
    True
    """
    return json.dumps(value, separators=(",", ":"))
