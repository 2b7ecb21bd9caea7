"""The book as a file: connected, made, migrated, copied, verified. Knows no row but by its table."""
