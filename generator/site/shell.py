"""What the frame of every page shows: the names `shell` and `page` of templates/base.html."""

from generator.frozen import dataclass


@dataclass(frozen=True)
class Link:
    """A word that leads somewhere."""

    label: str
    href: str


@dataclass(frozen=True)
class NavLink:
    """An entry of the guide's main list of ways in."""

    label: str
    href: str
    is_current: bool = False


@dataclass(frozen=True)
class PageHead:
    """What a page says of itself; templates/base.html reads it as `page`.

    `breadcrumb` leads from the home page to the page's parent; it is empty on the home page.
    `here` is the page's name at its end, where that is shorter than the title.
    """

    title: str
    description: str
    breadcrumb: tuple[Link, ...] = ()
    here: str = ""


@dataclass(frozen=True)
class Shell:
    """The frame of one page; addresses are relative to that page.

    `data_as_of` is a phrase such as "4 March 2026, revision 3f2a1c". `canonical_href`,
    `boot_href`, `early_href`, `units_href` and `feed_href` are empty where there is none. So are
    `worker_href`, `offline_href`, `manifest_href` and `icon_href` in a guide that is not kept.
    """

    guide_name: str
    language: str
    is_demo: bool
    data_as_of: str
    home_href: str
    method_href: str
    style_href: str
    boot_href: str
    canonical_href: str
    nav: tuple[NavLink, ...]
    footer_links: tuple[Link, ...]
    feed_href: str = ""
    early_href: str = ""
    units_href: str = ""
    worker_href: str = ""
    offline_href: str = ""
    manifest_href: str = ""
    icon_href: str = ""
