"""Sizes written as sums: text to pieces, pieces to a tree, the tree to a value. Imports nothing of the other wings."""
