"""From a site on the sheet to points in space, as a setup left them."""

from enum import Enum

from generator.frozen import dataclass
from generator.geometry.shapes import (
    Arc,
    AtRadius,
    Attachment,
    Block,
    Coordinate,
    Polyline,
    Shape,
    Shifted,
)
from generator.geometry.shapes import Extent as ShapeExtent
from generator.geometry.shapes import Ramp as ShapeRamp
from generator.geometry.wheel import TyreFaces
from generator.quantities.span import Extent
from generator.quantities.span import Ramp as RampSaid
from generator.quantities.units import Mm
from generator.records.fitted import Bodywork
from generator.records.site_sheet import SiteSheet
from generator.records.words import Attachment as AttachmentWord
from generator.records.words import Facing, Liner, Lips, Part

SPREAD_ON_BODY: Mm = 6.0
"""How far a sheet's coordinates on the body may be off where it does not say: common practice."""
SPREAD_ON_WHEEL: Mm = 3.0
"""The same for parts that move with the wheel: common practice."""

_ATTACHMENTS = {
    AttachmentWord.BODY: Attachment.BODY,
    AttachmentWord.STRUT: Attachment.STRUT,
    AttachmentWord.KNUCKLE: Attachment.KNUCKLE,
    AttachmentWord.UPRIGHT: Attachment.KNUCKLE,
    AttachmentWord.ARM: Attachment.ARM,
    AttachmentWord.AXLE: Attachment.AXLE,
}


class Condition(Enum):
    """The state a site is in; limits are learned for each apart."""

    STOCK = "stock"
    ROLLED = "rolled"
    PULLED = "pulled"
    CUT = "cut"
    TRIMMED = "trimmed"
    FORMED = "formed"
    RESHAPED = "reshaped"
    REMOVED = "removed"


@dataclass(frozen=True)
class PlacedSite:
    """A site in the state a setup left it: shape, None where it is not known or not there."""

    site: SiteSheet
    condition: Condition
    attachment: Attachment
    shape: Shape | None
    thickness: Mm
    spread: Mm
    unknown: str


def placed(site: SiteSheet, bodywork: Bodywork | None, stock: TyreFaces | None) -> PlacedSite:
    """Place a site as the setup's bodywork left it. `stock` places a site known only by a gap."""
    condition = _condition(site, bodywork)
    shape, unknown = _shape(site, stock)
    if shape is not None:
        shape, unknown = _changed(shape, condition, bodywork)
    on_body = site.moves_with is AttachmentWord.BODY
    spread = site.spread.value if site.spread else SPREAD_ON_BODY if on_body else SPREAD_ON_WHEEL
    thickness = site.thickness.value if site.thickness else 0.0
    attachment = _ATTACHMENTS[site.moves_with]
    return PlacedSite(site, condition, attachment, shape, thickness, spread, unknown)


def _condition(site: SiteSheet, bodywork: Bodywork | None) -> Condition:
    if bodywork is None:
        return Condition.STOCK
    if site.part is Part.LIP and bodywork.lips not in (None, Lips.STOCK):
        return Condition(bodywork.lips.value)
    if site.part is Part.LINER:
        if bodywork.liner in (Liner.REMOVED, Liner.NONE):
            return Condition.REMOVED
        if bodywork.liner in (Liner.TRIMMED, Liner.FORMED):
            return Condition(bodywork.liner.value)
    return Condition.RESHAPED if site.name in bodywork.changed else Condition.STOCK


def _changed(
    shape: Shape, condition: Condition, bodywork: Bodywork | None
) -> tuple[Shape | None, str]:
    """Move a shape as the modification did; words where nobody can say how far."""
    if condition is Condition.STOCK:
        return shape, ""
    if condition is Condition.REMOVED:
        return None, "it was removed"
    gained = bodywork.lips_gained.value if bodywork and bodywork.lips_gained else None
    if condition in (Condition.ROLLED, Condition.PULLED) and gained is not None:
        return Shifted(shape, (0.0, gained, 0.0)), ""
    if condition is Condition.CUT and gained is not None:
        return Shifted(shape, (0.0, 0.0, gained)), ""
    return None, f"it was {condition.value}, and by how much is not said"


def _shape(site: SiteSheet, stock: TyreFaces | None) -> tuple[Shape | None, str]:
    if site.arc is not None:
        arc = site.arc
        return Arc(
            arc.x.value, arc.z.value, arc.radius.value, arc.begin.value, arc.end.value,
            _coordinate(arc.y),
        ), ""  # fmt: skip
    if site.block is not None:
        block = site.block
        return Block(_coordinate(block.x), _coordinate(block.y), _coordinate(block.z)), ""
    if site.line is not None and len(site.line) > 1:
        corners = tuple((each.x.value, each.y.value, each.z.value) for each in site.line)
        return Polyline(corners), ""
    return _at_radius(site, stock)


def _at_radius(site: SiteSheet, stock: TyreFaces | None) -> tuple[Shape | None, str]:
    reach = site.reach
    if reach is None:
        return None, "the sheet gives it no place"
    if reach.stock_gap is None or stock is None or site.facing is Facing.CROWN:
        return None, "the sheet gives its radius, and no gap to the stock tyre"
    if site.facing is Facing.INBOARD:
        return AtRadius(reach.radius.value, stock.inboard.value - reach.stock_gap.value), ""
    return AtRadius(reach.radius.value, stock.outboard.value + reach.stock_gap.value), ""


def _coordinate(said: Extent | RampSaid) -> Coordinate:
    if isinstance(said, RampSaid):
        return ShapeRamp(said.start, said.end)
    return said.low if said.low == said.high else ShapeExtent(said.low, said.high)
