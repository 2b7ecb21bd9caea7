"""The saw, its blade, fixtures and instruments as they are described, and the geometry of a pivoting fence."""
