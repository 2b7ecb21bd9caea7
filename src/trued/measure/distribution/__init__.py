"""Student's t, chi-square, tolerance factors, and a standard deviation that is itself known from few readings."""
