"""How a scatter learns from a miss that it owns in part.

A miss d between what was foretold and what was found has variance own + other, where own = (gain s)^2 is the part of
the scatter s. Then (d^2 - other) / gain^2 estimates s^2 without bias, and says as much of it as w^2 of a reading that
has no other error, w = own / (own + other): Fisher's information of a normal miss about its variance. So it counts as
w^2 degrees of freedom:
a miss that is mostly owed to something else teaches little. The square never falls below nought,
because w^2 other is at most a quarter of own.
"""

from __future__ import annotations

import math

from trued.measure.scatter import Scatter


def learnt_from(scatter: Scatter, miss: float, gain: float, other: float) -> Scatter:
    """The scatter after a miss of variance (gain s)^2 + other; `gain` is above 0."""
    own = (gain * scatter.s) ** 2
    share = own / (own + other) if own + other > 0.0 else 1.0
    counts = share * share
    dof = scatter.dof + counts
    square = (scatter.dof * scatter.s**2 + counts * (miss * miss - other) / gain**2) / dof
    return Scatter(math.sqrt(max(square, 0.0)), dof, scatter.seen + 1, scatter.pairs)
