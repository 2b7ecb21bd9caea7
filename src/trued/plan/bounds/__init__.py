"""How cheap a layout could be at best, and the linear programs and knapsacks behind that."""
