"""Parts that are in no ticket, and what could make them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class NotMade:
    """A part that no station of this shop may lawfully make as things are.

    part: its id, or that of the copy (`side@1`). code, text: why, for scripts and people. could: what could make it.
    """

    part: str
    code: str
    text: str
    could: str
