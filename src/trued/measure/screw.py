"""Travel of a screw by its pitch, and the part of a turn that a hand can make.

The pitch comes from `units.read_thread`: ISO 261 coarse pitches, ASME B1.1 threads by their number in an inch.
"""

from __future__ import annotations

from fractions import Fraction

FINEST_TURN = Fraction(1, 16)  # of a turn; less cannot be told by hand, common practice


def turns_of(travel_mm: float, pitch_mm: float) -> float:
    """Turns for a travel, with its sign."""
    return travel_mm / pitch_mm


def smallest_travel_mm(pitch_mm: float) -> float:
    """The smallest travel that a hand can make at a screw: a sixteenth of a turn."""
    return float(FINEST_TURN) * pitch_mm


def nearest_turn(travel_mm: float, pitch_mm: float, *, finest: Fraction = FINEST_TURN) -> Fraction:
    """The turn that a hand can make nearest to a travel, as a fraction of a turn; 0 when none is nearer than that."""
    return finest * round(turns_of(travel_mm, pitch_mm) / float(finest))
