"""What a move does here: as told, the other way round, nothing, or twice as much. Filters side by side, weighed by
the findings.

Prior chances and widths are common practice: most screws do about what they are told, a few are turned or read the
wrong way round, a few do not touch, a few are turned twice too far. Given the hypothesis x and g are Gaussian, so the
mixture is exact for the model; but after each move the lock may have slipped, which is drawn together again once it
has been measured.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import NamedTuple

from trued.standing.filtered.kalman import GaussianState

NAMED_AT = 0.90
SLIPS_IN = 0.03  # locks in which it slips; common practice
LEAST = 1e-12  # no hypothesis is ever wholly ruled out


@dataclass(frozen=True, slots=True)
class GainHypothesis:
    """How moves arrive: g about `g` with standard deviation `u`; `blunder` names what is wrong then."""

    blunder: str
    chance: float
    g: float
    u: float


ORDINARY = GainHypothesis("", 0.91, 1.0, 0.3)
REVERSED = GainHypothesis("ends-swapped-or-reversed", 0.05, -1.0, 0.3)
STUCK = GainHypothesis("screw-not-touching", 0.03, 0.0, 0.1)
TOO_FAR = GainHypothesis("over-correction", 0.01, 2.2, 0.3)
HYPOTHESES = (ORDINARY, REVERSED, STUCK, TOO_FAR)
SLIPPED = "lock-slips"


class WeightedState(NamedTuple):
    """One hypothesis with its chance and its belief; a named tuple for the same reason as the belief."""

    hypothesis: GainHypothesis
    chance: float
    belief: GaussianState


@dataclass(frozen=True, slots=True)
class GainMixture:
    """All hypotheses together. With ORDINARY alone it is the plain filter of two states.

    slip:    standard deviation of a slip that may have come with a move not yet measured; 0 when there was none.
    slipped: the chance that the lock slipped at the move that was measured last.
    """

    branches: tuple[WeightedState, ...]
    slip: float = 0.0
    slipped: float = 0.0

    @classmethod
    def first(
        cls, z: float, r: float, run_r: float, hypotheses: tuple[GainHypothesis, ...] = HYPOTHESES
    ) -> GainMixture:
        """After a first finding, which says nothing about the response yet."""
        total = math.fsum(h.chance for h in hypotheses)
        return cls(
            tuple(WeightedState(h, h.chance / total, GaussianState.first(z, r, run_r, h.g, h.u**2)) for h in hypotheses)
        )

    def restarted(self, z: float, r: float, run_r: float) -> GainMixture:
        """After a finding that takes the place of all before it; what was learnt of moves stays."""
        return self._each(lambda belief: GaussianState.first(z, r, run_r, belief.g, belief.gg))

    def moved(self, u: float, settling: float, slip: float = 0.0) -> GainMixture:
        """After a move u and its settling; `slip` is how far the lock goes where it slips."""
        after = self._each(lambda belief: belief.moved(u, settling))
        return replace(after, slip=math.hypot(self.slip, slip))

    def doubted(self, variance: float) -> GainMixture:
        """After time or an event."""
        return self._each(lambda belief: belief.doubted(variance)) if variance > 0.0 else self

    def rescaled(self, factor: float) -> GainMixture:
        """After the scatter between runs was learnt anew."""
        return self._each(lambda belief: belief.rescaled(factor))

    def found(self, z: float, r: float, run_r: float) -> GainMixture:
        """After a finding: each belief learns, and each hypothesis gains by how well it had foretold the finding."""
        if len(self.branches) == 1 and not self.slip:
            return self._each(lambda belief: belief.found(z, r, run_r))
        found = [_found(branch.belief, z, r, run_r, self.slip) for branch in self.branches]
        logs = [math.log(branch.chance) + log for branch, (log, _, _) in zip(self.branches, found, strict=True)]
        top = max(logs)
        weights = [max(math.exp(log - top), LEAST) for log in logs]
        total = math.fsum(weights)
        branches = tuple(
            [
                WeightedState(branch.hypothesis, weight / total, belief)
                for branch, weight, (_, _, belief) in zip(self.branches, weights, found, strict=True)
            ]
        )
        if not self.slip:
            return GainMixture(branches)
        slips = zip(branches, found, strict=True)
        return GainMixture(branches, 0.0, math.fsum(branch.chance * slipped for branch, (_, slipped, _) in slips))

    @property
    def likeliest(self) -> WeightedState:
        """The hypothesis with the greatest chance."""
        best = self.branches[0]
        for branch in self.branches:  # asked for at each finding, and quicker so than by `max` with a key
            if branch.chance > best.chance:
                best = branch
        return best

    @property
    def blunder(self) -> str:
        """The name of what is wrong with the moves, once that is likely enough; "" otherwise."""
        best = self.likeliest
        if best.chance >= NAMED_AT and best.hypothesis.blunder:
            return best.hypothesis.blunder
        return SLIPPED if self.slipped >= NAMED_AT else ""

    def move_to(self, target: float) -> float:
        """The move after which the expected squared error is least over all hypotheses: E[(x - target) g] / E[g^2]."""
        across = math.fsum(b.chance * ((b.belief.x - target) * b.belief.g + b.belief.xg) for b in self.branches)
        return across / math.fsum(b.chance * (b.belief.g**2 + b.belief.gg) for b in self.branches)

    @property
    def best_move(self) -> float:
        """The same for a feature that should be nought."""
        return self.move_to(0.0)

    @property
    def x(self) -> float:
        """Mean of x over all hypotheses."""
        return math.fsum(b.chance * b.belief.x for b in self.branches)

    @property
    def variance(self) -> float:
        """Variance of x: within the hypotheses and between them, and of a slip that nobody has measured."""
        mean = self.x
        within = math.fsum(b.chance * (b.belief.xx + (b.belief.x - mean) ** 2) for b in self.branches)
        return within + SLIPS_IN * self.slip**2

    @property
    def run_variance(self) -> float:
        """The part of the variance owed to the scatter between runs."""
        return math.fsum(b.chance * b.belief.run_xx for b in self.branches)

    def _each(self, change: Callable[[GaussianState], GaussianState]) -> GainMixture:
        branches = tuple(
            [WeightedState(hypothesis, chance, change(belief)) for hypothesis, chance, belief in self.branches]
        )
        return GainMixture(branches, self.slip, self.slipped)


def _found(belief: GaussianState, z: float, r: float, run_r: float, slip: float) -> tuple[float, float, GaussianState]:
    """(logarithm of the density of the finding, chance that the lock slipped before it, the belief after it)."""
    plain, after = belief.log_chance(z, r), belief.found(z, r, run_r)
    if not slip:
        return plain, 0.0, after
    loose = belief.doubted(slip * slip)
    far = loose.log_chance(z, r) + math.log(SLIPS_IN)
    plain += math.log1p(-SLIPS_IN)
    top = max(far, plain)
    log = top + math.log(math.exp(far - top) + math.exp(plain - top))
    share = math.exp(far - log)
    return log, share, after.mixed(loose.found(z, r, run_r), share)
