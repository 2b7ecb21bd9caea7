"""One page a file: read what was sent, call a use case, show."""
