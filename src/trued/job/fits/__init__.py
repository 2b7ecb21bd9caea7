"""The chance of each fit, to first order or by Monte Carlo, one by one and all together; and what would raise it."""
