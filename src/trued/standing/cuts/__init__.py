"""The errors of cuts made now, as planning needs them."""
