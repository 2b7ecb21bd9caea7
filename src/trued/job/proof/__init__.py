"""Measured parts: read as typed, held against the fits, and what they teach of the saw."""
