"""Lets `python -m generator` do what the command `gapbook` does."""

from generator.cli import main

if __name__ == "__main__":
    raise SystemExit(main())
