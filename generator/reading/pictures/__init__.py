"""Photo files: what their headers say, and their pixels without anything else that was in them."""
