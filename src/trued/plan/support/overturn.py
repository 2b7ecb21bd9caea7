"""Does the whole saw turn over? Moments about one line of feet: what holds it down against what lifts it."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import isfinite

from trued.errors import Faults
from trued.plan.support.statics import STANDARD_GRAVITY, Body

# Common practice: what holds down is at least twice what lifts, with a hand of 15 lb on the outer corner.
LEAST_RATIO = 2.0
HAND_KG = 15 * 0.45359237


@dataclass(frozen=True, slots=True)
class Push:
    """A level push of force_n toward the feet's line and beyond, at height_mm above them."""

    force_n: float
    height_mm: float

    def __post_init__(self) -> None:
        faults = Faults()
        for name, value in (("force", self.force_n), ("height", self.height_mm)):
            if not (isfinite(value) and value >= 0):
                faults.add(name, f"{value:g}", "A push and its height are 0 or more.")
        faults.raise_if_any()


def overturning_ratio(
    bodies: Iterable[Body], feet_mm: float, pushes: Iterable[Push] = (), *, gravity: float = STANDARD_GRAVITY
) -> float:
    """Holding moment over overturning moment about the feet at x = feet_mm; infinite if nothing overturns.

    Weights inside the feet (x below feet_mm) hold, weights beyond them and pushes overturn. Below 1 it turns over.
    Count the hand on the outer corner as a body of HAND_KG: a hand is a load, never a help.
    """
    many = tuple(bodies)
    holds = sum(body.mass_kg * gravity * max(0.0, feet_mm - body.x_mm) for body in many)
    lifts = sum(body.mass_kg * gravity * max(0.0, body.x_mm - feet_mm) for body in many)
    lifts += sum(push.force_n * push.height_mm for push in pushes)
    return holds / lifts if lifts > 0 else float("inf")
