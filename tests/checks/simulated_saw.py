"""Simulated runs of the checks of the saw itself: blade, tilt stops, knife, insert, rip fence. See simulated.py."""

from __future__ import annotations

import numpy as np
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH, known, procedure, reads
from tests.worlds.blade import Arbor
from tests.worlds.measuring import indicator, rule

SPOT = {"first": 0.3, "second": 0.3 + np.pi / 2}  # where on the blade the two spots are


def blade_parallel(rng: np.random.Generator) -> Simulated:
    """Slot on either side, rip fence on either side, a wobbling blade, a dial that runs either way."""
    span, tolerance = 7.0, 0.004 / 7.0
    arbor = Arbor(rng.uniform(-5, 5) * tolerance, 4e-4, rng.uniform(0, 6), slot_x=rng.choice([-5.0, 5.0]))
    sigma, needle, long = rng.uniform(4e-5, 1.5e-4), indicator(rng), rule(rng)
    pressed = rng.normal(0.0, sigma) * span * INCH
    grows, zero = bool(rng.integers(2)), rng.uniform(-1.0, 1.0)
    typed = [f"fence={rng.choice(['beyond-blade', 'slot-side'])}", f"dial={'grows' if grows else 'shrinks'}"]
    for spot, angle in SPOT.items():
        for name, far in (("operator_end", False), ("far_end", True)):
            off = arbor.to_slot(arbor.brought(span / 2.0, angle, 0.0, far=far)) - 5.0
            mm = off * INCH + (pressed if far else 0.0) + zero
            typed += [f"{name}@{spot}={needle.read(-mm if grows else mm)}" for _ in range(2)]
    typed += reads(long, "span", span)
    own = [known(rng, "indicator", needle)]
    truth = {"blade-parallel": arbor.leans_away()}
    return Simulated("blade-parallel", typed, truth, scatter=procedure(rng, sigma), instruments=own)


WORLDS = {
    "blade-parallel": blade_parallel,
}
