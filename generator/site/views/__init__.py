"""One file for each kind of page."""
