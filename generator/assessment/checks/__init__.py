"""One file for each hazard that a reader of a page must be told of."""
