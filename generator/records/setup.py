"""A fitment record: one car, one set of wheels, what was measured, changed, rubbed and driven."""

import re
from typing import Annotated

from generator.quantities.misread import Misread
from generator.reading.fields import (
    Count,
    Day,
    Distance,
    Line,
    Mass,
    Model,
    Name,
    Prose,
    Slug,
    YesNo,
    described,
    listed,
    text_reader,
    word,
)
from generator.records.fitted import AxleSetup, GapSaid
from generator.records.words import (
    Agreement,
    Axle,
    InOut,
    OnOff,
    Outcome,
    RemedyKind,
    Side,
    State,
    Tool,
)

ToolWord = Annotated[Tool, word(Tool)]


class Gap(Model):
    """One gap: where, in which state, what was found, how."""

    site: Slug = described("site of the chassis sheet", example="strut-tube", required=True)
    axle: Annotated[Axle, word(Axle)] | None = described(
        "front or rear, where the site's name stands at both", example="front"
    )
    side: Annotated[Side, word(Side)] = described(
        "left, right, or both where no difference was found", example="left", required=True
    )
    state: Annotated[State, word(State)] = described(
        "position of the wheel", example="toe-out lock", required=True
    )
    gap: GapSaid = described(
        "a length, a range, or clears, touches, more than …, not checked",
        example="6 mm",
        required=True,
    )
    tool: ToolWord | None = described("tool", example="feeler gauge")
    note: Line | None = described("a remark", example="at the seam, with the liner in")


class Rub(Model):
    """A mark that was found."""

    site: Slug = described("site of the chassis sheet", example="fender-lip", required=True)
    axle: Annotated[Axle, word(Axle)] | None = described("front or rear", example="front")
    side: Annotated[Side, word(Side)] = described("side", example="left", required=True)
    grade: Count = described(
        "0 none seen, 1 polished, 2 rubbed, 3 cut below 1 mm, 4 deeper, or hose, wire, steering "
        "or brake touched",
        example="1",
        required=True,
    )
    when: Line = described("when it happened", example="full lock backing up a kerb", required=True)
    cured: YesNo | None = described("was it cured", example="yes")
    remedy: Line | None = described("what cured it", example="lip rolled by 8 mm")


class Remedy(Model):
    """One thing that was done so that the wheel clears."""

    kind: Annotated[RemedyKind, word(RemedyKind)] = described(
        "what was done", example="lip rolled", required=True
    )
    axle: Annotated[Axle, word(Axle)] = described("front or rear", example="front", required=True)
    amount: Line | None = described("how much", example="8 mm")
    cured: tuple[Slug, ...] = listed("sites it cured", example="fender-lip")
    spoiled: Line | None = described("what it made worse", example="edge shows at the wheel house")


class Road(Model):
    """What the car did since."""

    distance: Distance = described(
        "driven since the fitting", example="2400 km", usual=(0, 300000), required=True
    )
    outcome: Annotated[Outcome, word(Outcome)] = described(
        "what was seen afterwards", example="no mark", required=True
    )
    track_sessions: Count | None = described("sessions on a track", example="2")
    full_load: YesNo | None = described("driven with passengers and luggage", example="yes")
    full_lock: YesNo | None = described("turned at full lock both ways", example="yes")


class Method(Model):
    """How the gaps were found."""

    springs: Annotated[InOut, word(InOut)] = described(
        "springs in or out", example="out", required=True
    )
    links: Annotated[OnOff, word(OnOff)] | None = described(
        "anti-roll bar links on or off", example="off"
    )
    tools: tuple[ToolWord, ...] = listed("tools", example="feeler gauge")
    load: Mass | None = described("driver and load aboard", example="80 kg", usual=(0, 400))
    witness: Name | None = described("who helped and looked", example="Copperbill")


class Confirmation(Model):
    """A second member bears the record out."""

    member: Name = described("alias", example="Fernhollow", required=True)
    date: Day = described("when", example="2025-07-02", required=True)
    how: Annotated[Agreement, word(Agreement)] = described(
        "how", example="fitted to another car", required=True
    )
    note: Line | None = described("a remark", example="same gaps within a millimetre")


class Correction(Model):
    """Something in the record was wrong and has been put right."""

    date: Day = described("when", example="2025-08-20", required=True)
    what: Line = described(
        "what was wrong and is right now", example="backspacing, was read as 144 mm", required=True
    )
    by: Name | None = described("who found it", example="Fernhollow")


class Dispute(Model):
    """Somebody found something else."""

    date: Day = described("when", example="2025-08-20", required=True)
    member: Name = described("who", example="Fernhollow", required=True)
    site: Slug | None = described("the site it is about", example="fender-lip")
    claim: Line = described("what was found", example="touches at full bump", required=True)
    settled: Line | None = described("how it ended", example="third car sided with the claim")


class Withdrawal(Model):
    """The record no longer counts; its page stays."""

    date: Day = described("when", example="2025-09-01", required=True)
    reason: Line = described("why", example="the car had other hubs", required=True)


_PHOTO_NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*\.(jpg|png|webp)\Z")


def read_photo_name(text: str) -> str:
    """Read the name of a photo's file, which lies in the folder of its record's photos.

    >>> read_photo_name("gauge-at-the-strut.jpg")
    'gauge-at-the-strut.jpg'
    """
    if len(text) > 85 or not _PHOTO_NAME.match(text):
        stem, _, ending = text[:80].rpartition(".")
        near = re.sub(r"[^a-z0-9]+", "-", stem.rpartition("/")[2].lower()).strip("-")
        end = {"jpeg": "jpg"}.get(ending.lower(), ending.lower())
        fix = f"{near}.{end}"
        raise Misread(
            "F08", f"`{text[:40]}` is not the name of a photo's file", 0, len(text),
            "lower-case letters, digits and single hyphens, ending in `.jpg`, `.png` or `.webp`",
            fix=fix if _PHOTO_NAME.match(fix) else "",
        )  # fmt: skip
    return text


class Photo(Model):
    """A photo that lies beside the record, in photos/<chassis>/<name of the record>/."""

    file: Annotated[str, text_reader(read_photo_name)] = described(
        "name of its file, in the folder photos/<chassis>/<name of the record>",
        example="gauge-at-the-strut.jpg",
        required=True,
    )
    alt: Line = described(
        "what it shows, in words for somebody who cannot see it: tool, site, state, reading",
        example="Feeler gauge of 6 mm between tyre and strut, left, full lock",
        required=True,
    )
    caption: Line | None = described("a line below it", example="the tape says the state")
    site: Slug | None = described("the site it shows", example="strut-tube")


class Setup(Model):
    """One fitment record."""

    title: Line = described(
        "one line that says what is special",
        example="Seven-inch wheels, lips rolled",
        required=True,
    )
    chassis: Slug = described("the chassis sheet", example="ostvane-meridel", required=True)
    variant: Line | None = described("variant of the chassis", example="rear drum from 1980 on")
    car: Slug = described(
        "a short name of this car, the same in all records about it",
        example="copperbill-coupe",
        required=True,
    )
    member: Name = described("alias of who reports", example="Copperbill", required=True)
    date: Day = described("day of measuring", example="2025-06-14", required=True)
    odometer: Distance | None = described("odometer", example="148200 km", usual=(0, 600000))
    method: Method = described("how the gaps were found", required=True)
    front: AxleSetup = described("the front end", required=True)
    rear: AxleSetup = described("the rear end", required=True)
    gaps: tuple[Gap, ...] = listed("gaps, one by one")
    rubs: tuple[Rub, ...] = listed("marks that were found")
    remedies: tuple[Remedy, ...] = listed("what was done so that it clears")
    road: Road | None = described("what the car did since")
    not_checked: tuple[Line, ...] = listed(
        "what was not checked", example="articulation with the links on"
    )
    confirmations: tuple[Confirmation, ...] = listed("who bears it out")
    corrections: tuple[Correction, ...] = listed("what was put right")
    disputes: tuple[Dispute, ...] = listed("what others found")
    supersedes: Slug | None = described(
        "the record of the same car that this one replaces", example="copperbill-first-try"
    )
    withdrawn: Withdrawal | None = described("set when the record no longer counts")
    photos: tuple[Photo, ...] = listed("photos that lie beside the record")
    notes: Prose | None = described("anything else, in Markdown")
