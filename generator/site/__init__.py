"""Pages as data: which exist, at which address, with what in them."""
