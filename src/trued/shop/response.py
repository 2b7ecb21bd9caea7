"""What a move does here: as told, the other way round, or nothing. Three filters side by side, weighed by the findings.

Prior chances and widths are common practice: most screws do about what they are told, a few are turned or read the
wrong way round, a few do not touch. Given the hypothesis x and g are Gaussian, so the mixture is exact for the model.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from trued.shop.filter import Belief

NAMED_AT = 0.90


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """How moves arrive: g about `g` with standard deviation `u`; `blunder` names what is wrong then."""

    blunder: str
    chance: float
    g: float
    u: float


ORDINARY = Hypothesis("", 0.92, 1.0, 0.3)
REVERSED = Hypothesis("ends-swapped-or-reversed", 0.05, -1.0, 0.3)
STUCK = Hypothesis("screw-not-touching", 0.03, 0.0, 0.1)
HYPOTHESES = (ORDINARY, REVERSED, STUCK)


@dataclass(frozen=True, slots=True)
class Branch:
    """One hypothesis with its chance and its belief."""

    hypothesis: Hypothesis
    chance: float
    belief: Belief


@dataclass(frozen=True, slots=True)
class Response:
    """All hypotheses together. With ORDINARY alone it is the plain filter of two states."""

    branches: tuple[Branch, ...]

    @classmethod
    def first(cls, z: float, r: float, run_r: float, hypotheses: tuple[Hypothesis, ...] = HYPOTHESES) -> Response:
        """After a first finding, which says nothing about the response yet."""
        total = math.fsum(h.chance for h in hypotheses)
        return cls(tuple(Branch(h, h.chance / total, Belief.first(z, r, run_r, h.g, h.u**2)) for h in hypotheses))

    def moved(self, u: float, settling: float) -> Response:
        """After a move u and its settling."""
        return self._each(lambda belief: belief.moved(u, settling))

    def doubted(self, variance: float) -> Response:
        """After time or an event."""
        return self._each(lambda belief: belief.doubted(variance))

    def found(self, z: float, r: float, run_r: float) -> Response:
        """After a finding: each belief learns, and each hypothesis gains by how well it had foretold the finding."""
        if len(self.branches) == 1:
            return self._each(lambda belief: belief.found(z, r, run_r))
        logs = [math.log(b.chance) + b.belief.log_chance(z, r) for b in self.branches]
        top = max(logs)
        weights = [max(math.exp(log - top), 1e-12) for log in logs]  # never wholly ruled out
        total = math.fsum(weights)
        return Response(
            tuple(
                Branch(b.hypothesis, weight / total, b.belief.found(z, r, run_r))
                for b, weight in zip(self.branches, weights, strict=True)
            )
        )

    @property
    def likeliest(self) -> Branch:
        """The hypothesis with the greatest chance."""
        return max(self.branches, key=lambda branch: branch.chance)

    @property
    def blunder(self) -> str:
        """The name of what is wrong with the moves, once that is likely enough; "" otherwise."""
        best = self.likeliest
        return best.hypothesis.blunder if best.chance >= NAMED_AT else ""

    @property
    def best_move(self) -> float:
        """The move after which the expected squared error is least over all hypotheses: E[xg] / E[g^2]."""
        across = math.fsum(b.chance * (b.belief.x * b.belief.g + b.belief.xg) for b in self.branches)
        return across / math.fsum(b.chance * (b.belief.g**2 + b.belief.gg) for b in self.branches)

    @property
    def x(self) -> float:
        """Mean of x over all hypotheses."""
        return math.fsum(b.chance * b.belief.x for b in self.branches)

    @property
    def variance(self) -> float:
        """Variance of x: within the hypotheses and between them."""
        mean = self.x
        return math.fsum(b.chance * (b.belief.xx + (b.belief.x - mean) ** 2) for b in self.branches)

    @property
    def run_variance(self) -> float:
        """The part of the variance owed to the scatter between runs."""
        return math.fsum(b.chance * b.belief.run_xx for b in self.branches)

    def _each(self, change: Callable[[Belief], Belief]) -> Response:
        return Response(tuple(Branch(b.hypothesis, b.chance, change(b.belief)) for b in self.branches))
