"""Numbers with their units, and the trade's notation: text to typed values and back."""
