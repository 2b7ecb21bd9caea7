"""Where files lie that the person did not name, and reading one that was named."""
