"""One virtual sled: a fence that is out by a hidden angle, a screw that does about what it is told, a person who cuts.

It knows nothing of the tool: it gives readings as a person would type them, and takes turns of a screw.
"""

from __future__ import annotations

import math
from random import Random

from benchmarks.virtual.nature import Nature

LENGTH_IN = 12.0  # between the two spots that are read on the strip
RADIUS_IN = 18.0  # from the pivot to the screw
FEELER_IN = 0.0005  # feelers are stacked in steps of this
DIGIT_IN = 0.0005  # last digit of the caliper
READS = 2  # at each end
LEAST_IN = 0.3  # a strip narrower than this is not measured


class Sled:
    """`x` > 0: the corner is tight. A turn u > 0 opens the fence. All of it is hidden from who cuts."""

    def __init__(self, nature: Nature, seed: int, number: int) -> None:
        rng = Random(f"{seed}:{nature.name}:{number}")  # noqa: S311 - a benchmark, not a secret
        self._nature, self._rng = nature, rng
        self.x = nature.draw(rng, nature.start)
        backward = rng.random() < nature.reversed_in
        self.g = rng.uniform(*nature.response) * (-1.0 if backward else 1.0)
        self.backlash = rng.uniform(0.0, nature.backlash)
        self.settling = nature.spread(rng, nature.settling)
        self.swing = nature.spread(rng, nature.swing)
        self.seating = nature.spread(rng, nature.seating)
        self._slack = rng.choice((-1, 1))

    def another_start(self) -> None:
        """The screw was touched: nobody knows where it stands now."""
        self.x = self._nature.draw(self._rng, self._nature.start)

    def five_cut(self) -> tuple[str, ...]:
        """Trim, turn, trim ... and the widths of the strip. The board's own first edge is cut off, so that its taper
        never comes in; each of the four cuts that count swings and seats anew."""
        errors = sum(self._cut() for _ in range(4))
        fence, taper = self._rng.uniform(0.8, 1.2), LENGTH_IN * (4.0 * self.x + errors)
        if fence + taper < LEAST_IN:  # it would taper to nothing: a strip that is whole inches wider is cut
            fence += math.ceil(LEAST_IN - fence - taper)
        free = fence + taper
        zero = self._rng.uniform(-1.0, 1.0) * self._nature.caliper
        typed = [f"fence_end={self._read(fence + zero)}" for _ in range(READS)]
        typed += [f"free_end={self._read(free + zero)}" for _ in range(READS)]
        return (*typed, f"length={LENGTH_IN:g}")

    def _cut(self) -> float:
        return self._nature.draw(self._rng, self.swing) + self._nature.draw(self._rng, self.seating)

    def _read(self, inches: float) -> str:
        seen = inches + self._rng.uniform(-1.0, 1.0) * self._nature.caliper
        return f"{round(seen / DIGIT_IN) * DIGIT_IN:.4f}"

    def can_turn(self, u: float) -> float:
        """The nearest move that feelers make, never nought."""
        step = FEELER_IN / RADIUS_IN
        steps = round(abs(u) / step) or 1
        return steps * step * (1.0 if u > 0 else -1.0)

    def turn(self, u: float, approach: int = 0) -> None:
        """Loosen, turn, lock. `approach` +1 or -1 comes to the place from that side; 0: as the turn goes."""
        side = approach or (1 if u > 0 else -1)
        if side != self._slack:
            self.x += side * self.backlash
            self._slack = side
        self.x -= self.g * u
        self.x += self._nature.draw(self._rng, self.settling)
        if self._rng.random() < self._nature.slips:
            self.x += self._rng.gauss(0.0, self._nature.slip)

    def rest(self, days: float) -> None:
        """Time goes by."""
        self.x += self._rng.gauss(0.0, self._nature.drift) * days**0.5

    def carry(self) -> None:
        """The saw is carried."""
        self.x += self._nature.draw(self._rng, self._nature.carried)
