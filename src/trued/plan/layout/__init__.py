"""A layout as values, in whole units: pieces, cut trees, the result, and the verifier that cuts it all again."""
