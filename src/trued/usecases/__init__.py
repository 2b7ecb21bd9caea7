"""The use cases, one verb a file: the only door for every surface."""
