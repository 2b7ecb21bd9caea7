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

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.standing.repeats.repeat_runs import Innovation


def attributed_dof(scatter: EstimatedSd, miss: Innovation) -> tuple[float, float]:
    """(degrees of freedom, sum of squares) that a miss adds to what is known of the scatter; its gain is not 0."""
    own = (miss.gain * scatter.s) ** 2
    share = own / (own + miss.other) if own + miss.other > 0.0 else 1.0
    dof = share * share
    return dof, dof * (miss.size * miss.size - miss.other) / miss.gain**2


def updated(scatter: EstimatedSd, miss: Innovation) -> EstimatedSd:
    """The scatter after a miss, with all that was known before at its full weight."""
    more, squares = attributed_dof(scatter, miss)
    dof = scatter.dof + more
    square = (scatter.dof * scatter.s**2 + squares) / dof
    return EstimatedSd(math.sqrt(max(square, 0.0)), dof, scatter.seen + 1, scatter.pairs)
