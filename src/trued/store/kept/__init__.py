"""Rows to values and back, one file a kind of row."""
