"""What is known of a scatter: how far a thing repeats, and how well that is known.

A scaled inverse chi-square belief (Gelman et al., Bayesian Data Analysis, 2.6): a start worth `dof` readings,
then every squared deviation counts one more. A result that rests on it follows Student t with its `dof`.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class EstimatedSd:
    """Standard deviation `s` (unit of the thing), known like from `dof` deviations; `pairs` were seen untouched.

    `seen` counts the deviations that came from this shop; 0 means that all of it is assumed. `checked`: what it starts
    from was measured in this shop by other checks, so that it may stand without a pair.
    """

    s: float
    dof: float
    seen: int = 0
    pairs: int = 0
    checked: bool = False

    @property
    def shown(self) -> bool:
        """Whether this shop has shown it: by an untouched pair, or by what was checked before."""
        return self.pairs > 0 or self.checked

    def __post_init__(self) -> None:
        if not (self.s >= 0.0 and self.dof > 0.0):
            raise ValueError(f"a scatter needs s >= 0 and dof > 0, got {self.s} and {self.dof}")

    def learn(self, deviations: Iterable[float]) -> EstimatedSd:
        """After `deviations` that each have one degree of freedom and standard deviation s."""
        new = tuple(deviations)
        dof = self.dof + len(new)
        square = (self.dof * self.s**2 + sum(d * d for d in new)) / dof
        return replace(self, s=math.sqrt(square), dof=dof, seen=self.seen + len(new))

    def learn_pair(self, first: float, second: float) -> EstimatedSd:
        """After two runs with nothing touched between them: their difference has standard deviation s * sqrt(2)."""
        after = self.learn(((second - first) / math.sqrt(2.0),))
        return replace(after, pairs=self.pairs + 1)

    def learn_repeats(self, readings: Iterable[float]) -> EstimatedSd:
        """After readings of one and the same thing: n readings give n - 1 degrees of freedom."""
        new = tuple(readings)
        if len(new) < 2:
            return self
        mean = math.fsum(new) / len(new)
        square = math.fsum((x - mean) ** 2 for x in new)
        share = math.sqrt(square / (len(new) - 1))
        return self.learn((share,) * (len(new) - 1))
