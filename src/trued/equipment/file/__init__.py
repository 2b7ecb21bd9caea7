"""A shop as a TOML file: read with all its faults at once, and written again."""
