"""Phones that may come in: the code that lets one in, which they are, and their removal."""
