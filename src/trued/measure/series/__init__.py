"""Readings in the order taken: control charts, variance components, and which of two errors dominates."""
