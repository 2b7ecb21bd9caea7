"""What a straightedge itself may be wrong by: nothing read along it is known better than that.

Turned end for end it keeps its bow, so that proves nothing. It is proven on a flat board: a line scribed along it, the
straightedge turned over so that the same edge comes from the other side, a line again through the same two end points;
half the distance between the two lines is its own error there.
"""

from __future__ import annotations

import math

from trued.measure.estimate import ErrorSource, Shape, UncertainValue
from trued.procedure.declaration import RunInput
from trued.procedure.quantities import inches

UNPROVEN = inches(0.006)  # bow of a straightedge of unknown make over some two feet, common practice
LIMIT_TEXT = "limit of error of the straightedge over that length, by its maker; leave it out when nobody states it"
PROVE = (
    "Prove the straightedge: on a flat board scribe a line along it, turn it over so that the same edge comes from the "
    "other side, and scribe again through the same two end points. Turning it end for end proves nothing."
)


def own_error(taken: RunInput) -> UncertainValue:
    """The error that all readings along one unproven straightedge share: its maker's limit, else a wide one."""
    stated = taken.all("edge_limit")
    half = stated[0] if stated else UNPROVEN
    label = "straightedge: limit of error" if stated else "straightedge: not proven"
    return UncertainValue.of(
        0.0, ErrorSource("limit:straightedge", label, half / math.sqrt(3.0), math.inf, Shape.RECTANGULAR)
    )
