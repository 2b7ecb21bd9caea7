"""Asks, facts and sums that several checks share, and nothing else."""
