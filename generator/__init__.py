"""Gapbook: a car club's wheel and tyre fitment guide, made from its members' records."""

__version__ = "0.1.0"
RELEASED = (2026, 11, 25)
"""The day of this version. No clock can be earlier, so a clock set to 1970 changes nothing."""
