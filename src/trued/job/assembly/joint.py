"""Joints that make sizes: how long a part is that goes between two others, and what the joint added."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Joint(StrEnum):
    """How the ends of a part meet its neighbours."""

    BUTT = "butt"
    RABBET = "rabbet"
    DADO = "dado"
    GROOVE = "groove"
    MITRE = "mitre"
    HALF_LAP = "half-lap"


@dataclass(frozen=True, slots=True)
class Jointed:
    """A length as a sum, and in words what the joint made of it."""

    length: str
    said: str


_ENTERS = (Joint.RABBET, Joint.DADO, Joint.GROOVE)
"""Joints whose part goes into its neighbour by the depth of the joint, at either end."""


def enters(joint: Joint) -> bool:
    """Whether the joint has a depth."""
    return joint in _ENTERS


def between(joint: Joint, outside: str, neighbour: str, depth: str) -> Jointed:
    """The part between two neighbours, from the outside size over both.

    neighbour: what one of them takes of it: its thickness in a box, its width in a frame. depth: of the joint, in the
    neighbour. A mitred or half-lapped part reaches from outside to outside.
    """
    if joint in (Joint.MITRE, Joint.HALF_LAP):
        reach = "from tip to tip" if joint is Joint.MITRE else "over its neighbours, half of each taken away"
        return Jointed(outside, f"{joint}: the whole outside size, {reach}")
    inside = f"{outside} - 2*{neighbour}"
    if joint is Joint.BUTT:
        return Jointed(inside, "butt: outside less both neighbours, nothing added")
    return Jointed(
        f"{inside} + 2*{depth}", f"{joint}: outside less both neighbours, the joint's depth added at each end"
    )


def outside_from(inside: str, neighbour: str) -> str:
    """The outside size over two neighbours, from the clear size between them."""
    return f"{inside} + 2*{neighbour}"
