"""Moves, events, answers and undo: whatever a person tells of the shop that is no run of a check."""
