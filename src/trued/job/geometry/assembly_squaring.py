"""How a frame or box was brought square before its glue dried, and how far that leaves it racked."""

from __future__ import annotations

import math
from enum import StrEnum

from trued.job.geometry.fit_geometry import BuiltGeometry
from trued.job.geometry.unmeasured_errors import ASKEW, TAPED
from trued.measure.estimate import Shape, UncertainValue
from trued.measure.instrument import DEFAULTS


class Squaring(StrEnum):
    """By a tape along the diagonals, by its joints alone, or in clamps that nobody measured."""

    TAPE = "tape"
    JOINTS = "joints"
    CLAMPS = "clamps"

    def racking(self, made: BuiltGeometry, name: str, across: UncertainValue, up: UncertainValue) -> UncertainValue:
        """How far the corners of a frame with those sides are from square, rad.

        `joints` without a word of which joints is as good as the blade's tilt makes them.
        """
        if self is Squaring.TAPE:
            a, b = across.value, up.value
            u = tape_difference_u(made) * math.hypot(a, b) / (2.0 * a * b)
            return made.own(f"{name}: racked", TAPED, u, Shape.RECTANGULAR)
        if self is Squaring.CLAMPS:
            return made.own(f"{name}: racked", ASKEW, made.budget.untaught.askew_rad)
        return made.budget.blade_tilt()


def tape_difference_u(made: BuiltGeometry) -> float:
    """Standard uncertainty of a difference of two diagonals read with one tape: its division, evenly spread.

    The tape's own error is in both and goes out.
    """
    own = next((one for one in made.budget.own if one.kind == "tape"), DEFAULTS["tape"])
    return own.resolution / math.sqrt(12.0)
