"""The content folder that a command takes where none is named."""

from pathlib import Path

OR_ELSE = "(default: this folder where it has a club.yaml, else content_demo)"


def content_here() -> Path:
    """Give this folder where it holds a club's records, else the demo's."""
    here = Path()
    return here if (here / "club.yaml").is_file() else Path("content_demo")
