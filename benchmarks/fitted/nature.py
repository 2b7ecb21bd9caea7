"""One simulated shop: its true errors, drawn anew, and the cuts that come of them. mm and rad.

It follows the assumptions that the program states for a shop of which nothing is known: a scatter that is common
practice is known like from ten readings, so the shop's own is s · sqrt(10 / chi-square(10)). A changed shop has instead
tails of Student t with 5 degrees of freedom, and each of its spreads is 0.7 to 1.5 times what is stated.
Nothing of the program's sums is used here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from numpy.random import Generator

MIL = 0.0254
STATED = {
    "offset": 15 * MIL,
    "slope": 3e-4,
    "setting": 5 * MIL,
    "repeat": 3.4 * MIL,
    "fence": 4e-4,
    "fence at 45": 4e-4,
    "swing": 1.2e-4,
    "rip offset": 15 * MIL,
    "rip setting": 5 * MIL,
    "rip repeat": 2 * MIL,
    "caliper": 0.025,
}
"""Spreads that are known like from ten readings."""
GIVEN = {
    "board": 0.05,
    "piece": 0.025,
    "crook": 3.3e-4,
    "taper": 1.25e-4,
    "place": 0.4,
    "askew": 2e-3,
}
"""Spreads that are stated as they are."""
_DOF, _TAILS = 10, 5


@dataclass
class Nature:
    """The errors of one shop. `changed`: other tails and other spreads than are stated."""

    rng: Generator
    changed: bool = False

    def __post_init__(self) -> None:
        self.spread = {name: s * self._own() for name, s in STATED.items()}
        self.spread |= {name: s * (self._factor() if self.changed else 1.0) for name, s in GIVEN.items()}
        self.offset, self.slope = self.one("offset"), self.one("slope")
        self.fence, self.fence_45, self.rip = self.one("fence"), self.one("fence at 45"), self.one("rip offset")
        self.taper = self.one("taper")

    def one(self, name: str) -> float:
        """One error of that name."""
        if not self.changed:
            return float(self.rng.normal(0.0, self.spread[name]))
        return self.spread[name] * float(self.rng.standard_t(_TAILS)) / math.sqrt(_TAILS / (_TAILS - 2))

    def even(self, half: float) -> float:
        """Anywhere within ± half."""
        return float(self.rng.uniform(-half, half))

    def length(self, reading: float, setting: float) -> float:
        """A part cut against the stop, along its reference edge."""
        return reading * (1.0 + self.slope) + self.offset + setting + self.one("repeat")

    def width(self, reading: float, setting: float) -> float:
        """A part ripped against the fence."""
        return reading + self.rip + setting + self.one("rip repeat")

    def far_edge(self, length: float, width: float) -> float:
        """The same part along its other edge, where the fence's angle and the swing of that cut come in."""
        return length + width * (self.fence + self.one("swing"))

    def leans(self) -> tuple[float, float]:
        """How far the two ends of a part lean outward, cut one after the other along one fence."""
        along = self.fence + self.one("crook")
        return along + self.one("swing"), -along + self.one("swing")

    def mitres(self) -> tuple[float, float]:
        """How far the two mitres of a side are over what they are meant to be; one fence cuts both."""
        along = self.fence_45 + self.one("crook")
        return along - self.one("swing"), along - self.one("swing")

    def _own(self) -> float:
        return self._factor() if self.changed else math.sqrt(_DOF / float(self.rng.chisquare(_DOF)))

    def _factor(self) -> float:
        return float(self.rng.uniform(0.7, 1.5))
