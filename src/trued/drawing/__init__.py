"""Drawings as plain values, free of any format. The checks and the plan make them, `render/` shows them."""
