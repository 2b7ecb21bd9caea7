"""One invented sled: a fence that is out, a screw that does about what it is told, strips that are read.

Corner error ± uniform 3e-4 to 6e-3 rad, response lognormal sd .25, settling uniform 1e-5 to 6e-5 rad, play up to 1.5e-4
rad in two shops of five, yaw of one cut log-uniform 2e-5 to 3e-4 rad, caliper on wood 0.006 to 0.025 mm with two
readings an end, span 230 to 380 mm, radius 250 to 600 mm.
"""

from __future__ import annotations

import math
from random import Random

FEELER_MM = 0.0127  # leaves are exchanged in steps of this
CUTS, READS = 4, 2
LOG_SD = 0.25


class Sled:
    """`x` > 0: the corner is tight. A turn u > 0 opens the fence."""

    def __init__(self, seed: int, number: int) -> None:
        rng = self.rng = Random(f"slips:{seed}:{number}")  # noqa: S311 - a benchmark, not a secret
        self.x = rng.choice((-1.0, 1.0)) * rng.uniform(3e-4, 6e-3)
        self.g = math.exp(rng.gauss(0.0, LOG_SD))
        self.settling = rng.uniform(1e-5, 6e-5)
        self.play = rng.uniform(0.0, 1.5e-4) if rng.random() < 0.4 else 0.0
        self.run_s = math.exp(rng.uniform(math.log(2e-5), math.log(3e-4))) / math.sqrt(CUTS)
        caliper, span = rng.uniform(0.006, 0.025), rng.uniform(230.0, 380.0)
        self.read_s = caliper * math.sqrt(2.0 / READS) / (4.0 * span)
        self.radius = rng.uniform(250.0, 600.0)
        self._side = rng.choice((-1, 1))
        self._strip = self.x

    def cut(self) -> None:
        """A strip of its own."""
        self._strip = self.x + self.rng.gauss(0.0, self.run_s)

    def read(self) -> float:
        """What the strip says; read again it says nearly the same."""
        return self._strip + self.rng.gauss(0.0, self.read_s)

    def settable(self, u: float) -> float:
        """The nearest move that feelers make, never nought."""
        step = FEELER_MM / self.radius
        return (round(abs(u) / step) or 1) * step * (1.0 if u > 0.0 else -1.0)

    def turn(self, u: float, approach: int, arrives: float = 1.0) -> None:
        """Loosen, turn, lock. `arrives`: 0 where the screw does not touch."""
        side = approach or (1 if u > 0.0 else -1)
        if side != self._side and arrives:
            self.x += side * self.play
            self._side = side
        self.x -= self.g * u * arrives
        self.x += self.rng.gauss(0.0, self.settling)
