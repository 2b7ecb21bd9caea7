"""Runs repeated with nothing moved between them: the repeatability of a procedure, learned as it goes."""
