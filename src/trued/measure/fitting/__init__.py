"""Straight lines and flat fields through readings. Imports nothing of the other wings."""
