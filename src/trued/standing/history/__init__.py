"""What happened at a saw, in order: results, moves, events, and the names that things once had."""
