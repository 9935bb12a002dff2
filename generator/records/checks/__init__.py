"""One file for each rule that looks across fields or across files."""
