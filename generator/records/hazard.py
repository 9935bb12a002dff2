"""Parts that no tyre may ever touch: brakes, steering, fuel, and the lines and wires to them."""

import re

from generator.records.site_sheet import SiteSheet

_WORDS = re.compile(
    r"\b(hose|hard line|wire|cable|sensor|brake|caliper|steering|tie rod|track rod|drag link|rack"
    r"|idler|fuel|filler)s?\b"
)


def must_not_touch(site: SiteSheet) -> bool:
    """Tell from a site's names whether contact there can stop the brakes, steering or fuel.

    A name in words is all that a sheet gives; what is named otherwise is not found.
    """
    names = f"{site.name} {site.label}".casefold().replace("-", " ")
    return _WORDS.search(names) is not None
