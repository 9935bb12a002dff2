"""What a club writes down: its settings, chassis sheets, setups and articles."""
