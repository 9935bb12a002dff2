"""The physics: pure functions of numbers, no files, no records."""
