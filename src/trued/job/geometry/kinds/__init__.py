"""Ready-made fits: each the geometry of one kind of piece, derived exactly from its sizes and end angles."""
