"""Acts on the book as a whole: make it ready, back it up, restore and verify it."""
