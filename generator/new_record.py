"""A record to begin with, as a new file of a content folder. What is there is never replaced."""

import re
from pathlib import Path

from generator.quantities.misread import Misread
from generator.reading.fault import has_error
from generator.reading.fields import read_slug
from generator.reading.folder import Found, odd_name, oddity, one_file
from generator.reading.trouble import GuideError, shown
from generator.records.chassis import Chassis
from generator.records.collect import collect
from generator.records.library import Filed
from generator.records.names import expecting
from generator.site.starter import starter

DEFAULT_NAME = "new-setup"


def new_record(content: Path, chassis: str, name: str = DEFAULT_NAME) -> Path:
    """Write a record of a chassis to begin with, and give its path.

    Raises GuideError for a name that cannot be used, a chassis without a readable sheet, and a
    file that is there already.
    """
    text = starter(_sheet(content, chassis))
    way = f"setups/{chassis}/{_short(name, 'name of a record')}.yaml"
    if odd_name(way) is not None:
        raise GuideError(f"`{way}` would be no name for a file of the guide: give another --name")
    target = content / way
    if target.parent.is_symlink() or (content / "setups").is_symlink():
        raise GuideError(f"`{target.parent}` is a link; records lie in folders of the guide")
    target.parent.mkdir(parents=True, exist_ok=True)
    try:
        with target.open("x", encoding="utf-8") as file:
            file.write(text)
    except FileExistsError:
        raise GuideError(f"there is a file `{target}` already: give another --name") from None
    return target


def _short(name: str, what: str) -> str:
    try:
        return read_slug(re.sub(r"\.yaml\Z", "", name))
    except Misread as slip:
        near = f", such as `{slip.fix}`" if slip.fix else ""
        raise GuideError(f"`{shown(name)[:60]}` is no {what}: {slip.expected}{near}") from None


def _sheet(content: Path, name: str) -> Filed[Chassis]:
    """Read the sheet of a chassis, and nothing else of the content."""
    if not (content / "club.yaml").is_file():
        raise GuideError(f"`{content}` is not a content folder: it has no club.yaml")
    chassis = _short(name, "chassis")
    file, way = content / "chassis" / f"{chassis}.yaml", f"chassis/{chassis}.yaml"
    if not file.is_file() or oddity(file, way) is not None:
        known = sorted(path.stem for path in (content / "chassis").glob("*.yaml"))
        expected, _ = expecting(chassis, known)
        raise GuideError(f"the guide has no chassis `{chassis}`: {expected or 'it has no sheet'}")
    collected = collect((Found(way, one_file(file)),))
    filed = collected.library.chassis.get(chassis)
    if filed is None or has_error(collected.faults):
        raise GuideError(f"the sheet `{way}` has faults: `gapbook check {file}` tells them")
    return filed
