"""What the virtual shops are drawn from. Every figure is of our own making; a real shop has its own.

The scatter of a whole run comes out at 4.2e-5 to 8.3e-5 rad in about seven shops of ten: the trade's 0.0005 to 0.001 in
per foot (common practice). The tool knows none of this.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from random import Random


@dataclass(frozen=True, slots=True)
class Nature:
    """Distributions of the hidden truth, angles in rad.

    start:     standard deviation of what is wrong at first.
    response:  least and most of a commanded move that arrives, evenly; `reversed_in`: shops whose screw works backward.
    backlash:  most of the lost motion when the approach changes sides, evenly from 0.
    settling:  median over shops of how far locking shifts it; one lock in `slips` slips by `slip` more.
    swing, seating: median over shops of the bar's swing and of the seating, for each cut.
    log_sd:    how much these three differ from shop to shop (standard deviation of the logarithm).
    caliper:   each reading is off by up to this, evenly (in).
    tails:     degrees of freedom of Student's t for start, swing, seating and settling; 0: normal.
    drift:     standard deviation that a day adds (grows with the root of days). carried: that of a carry.
    """

    name: str
    start: float = 8e-4
    response: tuple[float, float] = (0.4, 1.6)
    reversed_in: float = 0.05
    backlash: float = 8e-5
    settling: float = 3e-5
    slips: float = 0.02
    slip: float = 3e-4
    swing: float = 8.5e-5
    seating: float = 6.5e-5
    log_sd: float = 0.4
    caliper: float = 0.001
    tails: float = 0.0
    drift: float = 9e-6
    carried: float = 1.5e-4

    def draw(self, rng: Random, sd: float) -> float:
        """One error of that standard deviation, with this nature's tails."""
        z = rng.gauss(0.0, 1.0)
        if not self.tails:
            return sd * z
        chi = math.fsum(rng.gauss(0.0, 1.0) ** 2 for _ in range(int(self.tails)))
        return sd * z * math.sqrt((self.tails - 2.0) / chi)

    def spread(self, rng: Random, median: float) -> float:
        """One shop's own standard deviation."""
        return median * math.exp(rng.gauss(0.0, self.log_sd))


USUAL = Nature("usual")
FINER = Nature("finer", swing=6e-5, seating=5.3e-5)
CHANGED = Nature(
    "changed",
    start=1.2e-3,
    response=(0.3, 1.2),
    swing=17e-5,
    caliper=0.002,
    tails=5.0,
    settling=4e-5,
    slips=0.04,
    drift=12e-6,
    carried=2.5e-4,
)
NATURES = {nature.name: nature for nature in (USUAL, FINER, CHANGED)}
