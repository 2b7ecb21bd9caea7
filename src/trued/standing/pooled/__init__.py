"""Features that no filter follows: their results since the last change, pooled by least squares."""
