"""The whole loop in the invented demo workshop."""
