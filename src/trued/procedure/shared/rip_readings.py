"""A rip fence as it was read: toe, lean of the blade, what opens between them, how it locks again, its bow."""

from __future__ import annotations

import math

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.instrument import DEFAULTS
from trued.procedure.declaration import RunInput
from trued.procedure.quantities import inches
from trued.procedure.series import deviation
from trued.procedure.shared.dial import dial_sign

LOCKING = EstimatedSd(inches(0.001), 3)  # mm: how the toe differs from lock to lock, common practice
PRESSING = 8e-5 * math.sqrt(2.0)  # rad: 8e-5 as known from four readings has the standard deviation of t with 4
BLADE, ENDS = ("blade_operator", "blade_far", "blade_span"), ("operator_end", "far_end")


def toes(taken: RunInput) -> list[float]:
    """What the fence opens at its far end, lock by lock, mm."""
    sign = dial_sign(taken)
    return [sign * (far - near) for near, far in zip(taken.all("operator_end"), taken.all("far_end"), strict=True)]


def locking(taken: RunInput) -> EstimatedSd:
    """How the toe differs from lock to lock as it is read: the start, then what these locks show."""
    own = math.sqrt(2.0) * own_repeat(taken)
    return EstimatedSd(math.hypot(LOCKING.s, own), LOCKING.dof).learn_repeats(toes(taken))


def own_repeat(taken: RunInput) -> float:
    """How far two readings of one place differ by the instrument alone, mm."""
    instrument = taken.of("operator_end")[0].instrument or DEFAULTS["indicator"]
    return max(instrument.repeat.s, instrument.resolution / math.sqrt(12.0))


def toe(taken: RunInput) -> UncertainValue:
    """Mean toe over the locks."""
    known, seen = locking(taken), toes(taken)
    s = known.s / math.sqrt(len(seen))
    own = ErrorSource("lock:toe", "locking and reading the fence", s, known.dof, pool="lock")
    return UncertainValue.of(math.fsum(seen) / len(seen), own)


def lean(taken: RunInput) -> UncertainValue | None:
    """Lean of the blade toward the fence, rad; None while it was not read."""
    if not all(taken.has(name) for name in BLADE):
        return None
    away_from_slot = (taken.mean("blade_far") - taken.mean("blade_operator")) * dial_sign(taken)
    toward = 1.0 if taken.choice("slot") == "beyond-blade" else -1.0
    again = ErrorSource("blade:again", "pressing the bar and finding the spot again", PRESSING)
    return away_from_slot * toward / taken.mean("blade_span") + UncertainValue.of(0.0, again)


def pinch(taken: RunInput) -> UncertainValue | None:
    """Opening between fence and blade toward the far end, the next time the fence is locked; below 0 it pinches."""
    toward = lean(taken)
    if toward is None:
        return None
    known = locking(taken)
    again = ErrorSource("lock:next", "locking the fence the next time", known.s, known.dof, pool="lock")
    return (toe(taken) + UncertainValue.of(0.0, again)) / taken.mean("length") - toward


def relock(taken: RunInput) -> EstimatedSd:
    """How far the end that repeats worse comes to lie from lock to lock, never finer than the instrument repeats."""
    spreads = [deviation(taken.all(name)) for name in ENDS]
    return EstimatedSd(max(*spreads, own_repeat(taken)), len(taken.all("far_end")) - 1)


def bow(taken: RunInput) -> UncertainValue:
    """Middle less the mean of the ends: positive = the face is hollow, it stands back in the middle."""
    return (taken.mean("middle") - 0.5 * (taken.mean("operator_end") + taken.mean("far_end"))) * dial_sign(taken)
