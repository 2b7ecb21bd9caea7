"""The shop: saw, fixtures, instruments, features, standings, and what the saw holds now."""
