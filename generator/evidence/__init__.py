"""What the club's records say together, and how sure that is."""
