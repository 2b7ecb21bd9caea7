"""Telling a thing's own error from the error of what it was measured with, by turning one against the other.

Textbook algebra of reversal (Evans, Hocken and Estler, CIRP Annals 45/2, 1996, is the survey of it; the formulas stand
here from memory). It holds for a level turned end for end, for a square turned over, and for a straightedge that is
turned about its long axis, so that the *same edge* comes from the other side. A straightedge turned end for end keeps
its bow: only the lopsided part of its error changes its sign.
"""

from __future__ import annotations

from trued.measure.estimate import UncertainValue, lift

Value = UncertainValue | float


def reversal(first: Value, turned: Value) -> tuple[UncertainValue, UncertainValue]:
    """(thing, instrument) from the reading before, thing + instrument, and after turning, thing - instrument."""
    a, b = lift(first), lift(turned)
    return 0.5 * (a + b), 0.5 * (a - b)


def three_against_each_other(ab: Value, bc: Value, ac: Value) -> tuple[UncertainValue, UncertainValue, UncertainValue]:
    """The errors of three straightedges (or squares) from A + B, B + C and A + C, each pair held together.

    With the same uncertainty u of every pair, each comes out with u * sqrt(3) / 2. Along one line only: of plates it
    leaves the twist unknown.
    """
    s1, s2, s3 = lift(ab), lift(bc), lift(ac)
    return 0.5 * (s1 + s3 - s2), 0.5 * (s1 + s2 - s3), 0.5 * (s2 + s3 - s1)
