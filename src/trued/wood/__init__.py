"""Wood: species, movement with moisture, density, fasteners."""
