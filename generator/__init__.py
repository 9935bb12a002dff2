"""Gapbook: a car club's wheel and tyre fitment guide, made from its members' records."""
