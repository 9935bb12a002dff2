"""From bytes to frozen values, and every fault on the way with its place in the file."""
