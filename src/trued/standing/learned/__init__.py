"""All that a history teaches, folded row by row, and its text form. May import every other wing but charts and cuts."""
