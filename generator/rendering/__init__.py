"""From pages as data to bytes, and the bytes safely into the output folder."""
