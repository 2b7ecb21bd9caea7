"""Planning: layout on the stock, the order of cuts, support at the saw."""
