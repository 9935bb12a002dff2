"""What the browser's copy of the computation is given: constants, chassis, starts, as JSON."""
