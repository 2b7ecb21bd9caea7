"""The order of cuts with the fewest settings, and what stop and fence are set to. May import layout and stations."""
