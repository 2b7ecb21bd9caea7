"""The angle and the swing that a feature's name ends in: `0`, `22.5open`, `45closed`; `?` where they were not told.

Angles are decimal degrees from a square cut (of a tilted blade from upright), without trailing zeros. *Open* means
that the fence's end far from the blade stands away from the work, *closed* that it stands in it. The square cut has no
side, and neither has a tilt.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from trued.errors import InputRefused

SWINGS = ("open", "closed")
UNTOLD = "?"
"""Stands for an angle in older books, which did not ask for it."""
SAME_DETENT = 0.5  # degrees: so near to a named detent an angle is that detent
LARGEST = 89.0  # degrees from a square cut; beyond it no corner is cut at all
_SUFFIX = re.compile(r"(?P<degrees>\d+(?:\.\d+)?)(?:°|deg)?[ -]?(?P<swing>open|closed)?")


@dataclass(frozen=True, slots=True)
class Turned:
    """An angle in degrees, 0 or more, and the side; None: not told."""

    degrees: float | None
    swing: str = ""

    @property
    def square(self) -> bool:
        """Whether it is known to be the square cut."""
        return self.degrees == 0.0

    @property
    def suffix(self) -> str:
        """As a feature's name ends: `0`, `45closed`, `?`."""
        if self.degrees is None:
            return UNTOLD
        return "0" if self.square else f"{plain_degrees(self.degrees)}{self.swing}"

    @property
    def text(self) -> str:
        """For people: `square`, `45° closed`, `angle not told`."""
        if self.degrees is None:
            return "angle not told"
        return "square" if self.square else f"{plain_degrees(self.degrees)}° {self.swing}".rstrip()


def plain_degrees(degrees: float) -> str:
    """`22.5`, `45`: without trailing zeros."""
    return f"{degrees:.3f}".rstrip("0").rstrip(".")


def turned_of(suffix: str) -> Turned:
    """What a name's ending says; InputRefused where it says nothing that is known."""
    if suffix == UNTOLD:
        return Turned(None)
    found = _SUFFIX.fullmatch(suffix.strip().lower())
    degrees = float(found["degrees"]) if found is not None else -1.0
    if found is None or not 0.0 <= degrees <= LARGEST:
        text = "An angle is degrees from a square cut and the side of the fence: 0, 22.5open, 45closed."
        raise InputRefused.of("angle", suffix, text)
    return Turned(degrees, (found["swing"] or "") if degrees else "")


@dataclass(frozen=True, slots=True)
class Detents:
    """The angles at which a fixture's fence is held, by the side it swings to, in degrees; () where none are named."""

    open: tuple[float, ...] = ()
    closed: tuple[float, ...] = ()

    def of(self, swing: str) -> tuple[float, ...]:
        """Those of one side."""
        return self.open if swing == "open" else self.closed

    def __bool__(self) -> bool:
        """Whether any is named."""
        return bool(self.open or self.closed)

    def has(self, turned: Turned) -> bool:
        """Whether one is named at that angle, to that side."""
        return turned.degrees in self.of(turned.swing)

    def nearest(self, turned: Turned) -> Turned:
        """The same angle as the detent it means, and on the one side where only one is possible.

        What lies within half a degree of a named detent is that detent; anything else is a fence set by hand.
        """
        if turned.degrees is None or turned.square:
            return turned
        degrees = turned.degrees
        sides = [turned.swing] if turned.swing else [swing for swing in SWINGS if self._near(swing, degrees)]
        if len(sides) != 1:
            swings = [swing for swing in SWINGS if self.of(swing)]
            return Turned(degrees, swings[0]) if not sides and len(swings) == 1 else turned
        (swing,) = sides
        return Turned(next(iter(self._near(swing, degrees)), degrees), swing)

    def _near(self, swing: str, degrees: float) -> list[float]:
        near = [own for own in self.of(swing) if abs(own - degrees) <= SAME_DETENT]
        return sorted(near, key=lambda own: abs(own - degrees))


def detents_of(kept: str) -> Detents:
    """What a shop keeps of them: `open 22.5 45; closed 45`."""
    sides: dict[str, tuple[float, ...]] = {}
    for part in kept.split(";"):
        swing, *angles = part.split()
        sides[swing] = tuple(float(angle) for angle in angles)
    return Detents(sides.get("open", ()), sides.get("closed", ()))


def detents_text(detents: Detents) -> str:
    """How a shop keeps them."""
    sides = ((swing, detents.of(swing)) for swing in SWINGS)
    return "; ".join(f"{swing} {' '.join(map(plain_degrees, angles))}" for swing, angles in sides if angles)
