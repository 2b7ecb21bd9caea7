"""The measuring procedures, one a file, found by looking into this folder."""
