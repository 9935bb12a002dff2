"""How a gap changes with the dimensions of tyre and wheel, and how well it is known by them."""

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from math import hypot
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from generator.frozen import dataclass
from generator.geometry.clearance import SectionPoint, all_closest
from generator.geometry.outline import Outline, TyreSection, many_vertices
from generator.geometry.tyre import TREAD_SHARE, TREAD_SHARE_U, TyreDimensions
from generator.geometry.wheel import PositionWeights, WheelPosition
from generator.quantities.units import Mm, Ratio

Floats: TypeAlias = npt.NDArray[np.float64]

_STEP: Mm = 0.01
"""Half-width of the central difference of a vertex; vertices are smooth over millimetres."""
_DIMENSIONS = (
    "section_width",
    "tread_width",
    "diameter",
    "rim_width",
    "flange_inboard",
    "flange_outboard",
)


@dataclass(frozen=True)
class GapGradient:
    """A gap and its change per mm of everything that makes it, pure numbers.

    `site_u` and `site_r` are the site point's own; the rest are dimensions of the section.
    """

    gap: Mm
    site_u: Ratio
    site_r: Ratio
    centre: Ratio
    section_width: Ratio
    tread_width: Ratio
    diameter: Ratio
    rim_width: Ratio
    flange_inboard: Ratio
    flange_outboard: Ratio


def gap_gradient(site: SectionPoint, outline: Outline) -> GapGradient:
    """Give how a gap changes with each dimension of the section and with the site's own place.

    Model: see `gap_gradients`.
    Source: own derivation: envelope theorem for a least distance.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> over_crown = gap_gradient(SectionPoint(-24.0, 310.0), section_outline(EXAMPLE))
    >>> round(over_crown.diameter, 6), round(over_crown.site_r, 6)
    (-0.5, 1.0)
    """
    return gap_gradients((site,), outline)[0]


def gap_gradients(sites: Sequence[SectionPoint], outline: Outline) -> tuple[GapGradient, ...]:
    """Give how the gap of each site changes with each dimension of the section and its own place.

    Model: to first order a gap changes by the normal part of how its nearest outline point moves;
    the vertices' motion is a central difference over 0.01 mm (one-sided where the section would
    stop to exist). Holds while the nearest edge stays the same.
    Source: own derivation: envelope theorem for a least distance.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> beside_and_over = (SectionPoint(-140.0, 241.85), SectionPoint(-24.0, 310.0))
    >>> found = gap_gradients(beside_and_over, section_outline(EXAMPLE))
    >>> [round(abs(each.section_width), 1) for each in found]
    [0.5, 0.0]
    """
    if not sites:
        return ()
    near = all_closest(sites, outline)
    # Where the wheel stands moves all vertices alike, so that it takes no part in their speed.
    speeds = _speeds(replace(outline.section, centre=0.0))
    edge = np.array([each.edge for each in near])
    share = np.array([each.share for each in near])[:, None]
    normals = np.array([(each.normal_u, each.normal_r) for each in near])
    after = (edge + 1) % speeds.shape[1]
    feet = (1.0 - share) * speeds[:, edge] + share * speeds[:, after]
    rates = -(feet[..., 0] * normals[:, 0] + feet[..., 1] * normals[:, 1])
    return tuple(
        GapGradient(each.gap, each.normal_u, each.normal_r, -each.normal_u, *of_dimensions)
        for each, of_dimensions in zip(near, rates.T.tolist(), strict=True)
    )


@lru_cache(maxsize=256)
def _speeds(section: TyreSection) -> Floats:
    """Give how each vertex moves per mm of each dimension (6, k, 2); kept, since many sites ask."""
    pairs = [
        (_changed(section, name, -_STEP), _changed(section, name, _STEP)) for name in _DIMENSIONS
    ]
    placed = many_vertices([section for pair in pairs for section, _ in pair])
    speeds = []
    for place, ((_, least), (_, most)) in enumerate(pairs):
        speeds.append((placed[2 * place + 1] - placed[2 * place]) / (most - least))
    return np.array(speeds)


def _changed(section: TyreSection, name: str, by: Mm) -> tuple[TyreSection, Mm]:
    value: Mm = getattr(section, name)
    try:
        return replace(section, **{name: value + by}), by
    except ValueError:
        return section, 0.0


def gap_uncertainty(gradient: GapGradient, position: WheelPosition, tyre: TyreDimensions) -> Mm:
    """Give the standard uncertainty of a gap from wheel and tyre; the site's own is not in it.

    Model: first order. What wheel position shares (one flange in offset and lip) stays correlated;
    a tread nobody measured goes with the section and with the spread of its usual share.
    Source: [GUM] 5.1.2 and 5.2.2.
    >>> from generator.geometry.outline import EXAMPLE, section_outline
    >>> from generator.geometry.tyre import nominal_dimensions
    >>> from generator.geometry.wheel import WheelDimensions, wheel_position
    >>> from generator.quantities.estimate import Basis, Estimate
    >>> exact = lambda mm: Estimate(mm, 0.0, Basis.MEASURED)
    >>> place = wheel_position(WheelDimensions(exact(152.4), offset=exact(24.0)), exact(0.0))
    >>> over_crown = gap_gradient(SectionPoint(-24.0, 310.0), section_outline(EXAMPLE))
    >>> round(gap_uncertainty(over_crown, place, nominal_dimensions(201.0, 609.0)), 6)
    2.5
    """
    weights = PositionWeights(
        centre_plane=gradient.centre,
        width=gradient.rim_width,
        flange_inboard=gradient.flange_inboard,
        flange_outboard=gradient.flange_outboard,
    )
    section, tread = tyre.section_width, gradient.tread_width
    if tyre.tread_width is None:
        across = gradient.section_width + TREAD_SHARE * tread
        tread_part = tread * TREAD_SHARE_U * section.value
    else:
        across, tread_part = gradient.section_width, tread * tyre.tread_width.u
    tyre_part = hypot(across * section.u, tread_part, gradient.diameter * tyre.diameter.u)
    return hypot(position.uncertainty(weights), tyre_part)
