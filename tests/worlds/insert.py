"""A table insert on four screws, and a strip that slides over it; inches. Nothing of the product is used here.

Heights above the table by corner; y away from the operator. A pressed corner lies on its own screw.
"""

from __future__ import annotations

from dataclasses import dataclass, field

CORNERS = ("operator-keeper", "operator-offcut", "far-keeper", "far-offcut")
FELT = 0.0015  # a step that a planed strip catches at


@dataclass
class Insert:
    above: dict[str, float] = field(default_factory=lambda: dict.fromkeys(CORNERS, 0.0))

    def turn(self, corner: str, up: float) -> None:
        self.above[corner] += up

    def low(self, corner: str) -> float:
        """The gap below a straightedge that lies on the table; below 0 the insert lifts it."""
        return -self.above[corner]

    def rock(self) -> float:
        """A stiff plate rests on the pair of opposite screws that together stand higher; the others are loose."""
        one = self.above["operator-keeper"] + self.above["far-offcut"]
        other = self.above["operator-offcut"] + self.above["far-keeper"]
        return abs(one - other)

    def strip(self) -> str:
        """Where a strip catches on its way from the operator: at an upward step."""
        for edge, up in (("operator", 1.0), ("far", -1.0)):
            if max(up * self.above[c] for c in CORNERS if c.startswith(edge)) > FELT:
                return edge
        return "none"
