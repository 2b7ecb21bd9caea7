"""The surface for scripts: numbers to texts as typed, a book as a value, and the same work without a book."""
