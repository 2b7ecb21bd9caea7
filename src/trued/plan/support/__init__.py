"""Statics: does sled, table and wing carry the piece through the whole cut? Imports nothing of the other wings."""
