"""The job: parts, size expressions, fits, the error budget, measured parts."""
