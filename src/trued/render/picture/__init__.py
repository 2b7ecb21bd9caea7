"""A drawing as SVG: places, looks, hatching, labels that keep out of each other's way."""
