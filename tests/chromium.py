"""The browser that pages are looked at in: Chromium, without its window where it comes so.

With a window that nobody sees, each page asked for takes three times the processor's time.
"""

from shutil import which

NAMES = ("chromium-headless-shell", "chromium", "chromium-browser")


def chromium() -> str | None:
    """Give the path of the first that is there."""
    return next(filter(None, map(which, NAMES)), None)
