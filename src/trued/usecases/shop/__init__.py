"""The shop as its book tells it now. The lowest wing: the others rest on it."""
