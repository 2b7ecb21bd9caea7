"""The page on this computer: parse, call a use case, show."""
