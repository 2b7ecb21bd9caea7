"""One run of a check: take it, keep it, review it. May import every wing but saved."""
