"""Numbers that standards and handbooks publish, each with its source."""
