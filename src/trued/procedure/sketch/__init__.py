"""Pieces that the drawings of the checks share."""
