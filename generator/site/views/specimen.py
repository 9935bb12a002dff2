"""The specimen page: every component of templates/components in every state."""

from generator.site.shell import Link, PageHead


def head(home: Link) -> PageHead:
    """Say what the page is; the template finds the components and their examples by itself."""
    return PageHead(
        title="Specimen",
        description="Every component of the guide in every state, with invented numbers.",
        breadcrumb=(home,),
    )
