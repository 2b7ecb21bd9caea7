"""Steps from each older version of the book to the next."""
