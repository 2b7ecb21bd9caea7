"""One command a file, found by its name and loaded only when it is called."""
