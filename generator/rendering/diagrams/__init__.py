"""One file for each drawing: coordinates for the SVG template of the same name."""
