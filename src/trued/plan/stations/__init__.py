"""Where a cut may be made, what is done before it, and why a station refuses it. May import layout and support."""
