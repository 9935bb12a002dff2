"""All computed results of one setup on its chassis: the one shared computation."""
