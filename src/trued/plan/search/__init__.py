"""The search for a layout. May import layout and bounds; `plan/lay_out.py` is its only door."""
