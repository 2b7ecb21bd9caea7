"""An amount in the one unit that the hand reads, or as it shows on the work."""
