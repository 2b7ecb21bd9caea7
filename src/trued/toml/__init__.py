"""TOML text that people write: read piece by piece, every fault noted with its place, no key unknown."""
