"""One file for each table that the guide gives out; each has a `TABLE`."""
