"""What a change of the records changes in the guide, for the one who decides about it."""
