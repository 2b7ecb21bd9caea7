"""Closing of a mitred frame: all joints but the last are tight, and the last shows what is left over.

Side k has its outer edge from tip to tip, L(k), and two ends cut at about 180°/n from square: α at its beginning and β
at its end, both larger when the inside of the frame is shorter. Laid with the outer edge along x, its end face runs at
90° + β and the next side's beginning at 90° − α from their outer edges; with the faces tight and the outer tips
together the next side heads by β + α further round. After the last side the end face stands before the first side's
beginning, and its outer or inner corner is so far from that face.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from trued.job.expression.tree import Node, PartSize
from trued.job.geometry.fit_geometry import BuiltGeometry, LimitPlace, Q
from trued.job.geometry.number import cosine, sine, total
from trued.measure.estimate import UncertainValue


@dataclass(frozen=True, slots=True)
class Mitres:
    """Gap at the last joint of `sides` in their order round, at its `inside` or outside corner; below 0 it overlaps."""

    sides: tuple[PartSize, ...]
    width: Node
    inside: bool

    @property
    def nodes(self) -> tuple[Node, ...]:
        """The sizes that it rests on."""
        return *self.sides, self.width

    @property
    def straight(self) -> bool:
        """Sines and cosines."""
        return False

    @property
    def angle(self) -> str:
        """What the fixture is set to, in degrees."""
        return f"{180 / len(self.sides):g}"

    def inputs(self, made: BuiltGeometry) -> tuple[UncertainValue, ...]:
        """Width of the stuff, then of every side its length and its two mitres in rad."""
        mitre = math.pi / len(self.sides)
        sides = (
            (made.size(side, ends=False), *(mitre - made.lean(side, end, self.angle) for end in (1, 2)))
            for side in self.sides
        )
        return made.size(self.width), *(x for side in sides for x in side)

    def places(self, x: Sequence[Q]) -> tuple[LimitPlace[Q], ...]:
        """The last joint."""
        width, lengths, begins, ends = x[0], x[1::3], x[2::3], x[3::3]
        heading = ends[0] * 0.0
        xs, ys = [lengths[0]], [heading]
        for length, begin, before in zip(lengths[1:], begins[1:], ends, strict=False):
            heading = heading + before + begin
            xs.append(length * cosine(heading))
            ys.append(length * sine(heading))
        px, py = total(xs), total(ys)
        if self.inside:
            face = heading + (0.5 * math.pi + ends[-1])
            px, py = px + width * cosine(face) / cosine(ends[-1]), py + width * sine(face) / cosine(ends[-1])
        return (LimitPlace(py * sine(begins[0]) - px * cosine(begins[0]), "the last joint"),)
