"""The pages on this computer: read what was sent, call a use case, show. They work without any script."""
