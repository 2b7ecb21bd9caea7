"""Texts as they may be drawn and printed: no signs that a page language or XML cannot hold."""

import unicodedata


def plain(text: str) -> str:
    """The same text in one line: control signs, lone surrogates and such become spaces, runs of spaces become one."""
    kept = ("\ufffd" if unicodedata.category(sign) == "Cs" else sign for sign in text)
    held = (" " if unicodedata.category(sign) == "Cc" or ord(sign) & 0xFFFE == 0xFFFE else sign for sign in kept)
    return " ".join("".join(held).split())
