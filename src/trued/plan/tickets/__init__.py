"""The cuts as the person at the saw sees them. May import every other wing."""
