"""The oracle: a filter that knows every distribution of the virtual shop, and each shop's own scatter besides.

A grid over the response (ordinary and reversed), at each node a normal belief about x: exact but for slips of the lock,
which are drawn together after each run, and for backlash, taken by its mean and variance. Its next move is the one with
the best chance of being in. All shops go side by side. It knows more than any tool can: a bound, not a rival.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from benchmarks.virtual.nature import Nature
from benchmarks.virtual.sled import DIGIT_IN, LENGTH_IN, READS, Sled
from benchmarks.virtual.stand_ins import angle_of
from benchmarks.virtual.told import MOST_RUNS, TOLERANCE, Told
from numpy.typing import NDArray
from scipy.special import ndtr

Array = NDArray[np.float64]
NODES = 25
SURE = 0.95
BATCH = 500


@dataclass(slots=True)
class Belief:
    """For each shop and node of g: weight, mean and variance of x. `moved`: shops that were turned since measured."""

    g: Array
    weight: Array
    mean: Array
    variance: Array
    moved: NDArray[np.bool_]

    @classmethod
    def first(cls, nature: Nature, shops: int) -> Belief:
        """What is known before anything is measured."""
        low, high = nature.response
        nodes = low + (np.arange(NODES) + 0.5) * (high - low) / NODES
        weights = np.full(NODES, 1.0 / NODES)
        back = nature.reversed_in
        weight = np.concatenate((weights * (1.0 - back), weights * back))
        size = (shops, 2 * NODES)
        return cls(
            np.concatenate((nodes, -nodes)),
            np.broadcast_to(weight, size).copy(),
            np.zeros(size),
            np.full(size, nature.start**2),
            np.zeros(shops, dtype=bool),
        )

    def found(self, z: Array, r: Array, nature: Nature) -> None:
        """Learn from one run each."""
        chance = np.where(self.moved, nature.slips, 0.0)[:, None]
        plain, slipped = self.variance, self.variance + nature.slip**2
        logs, means, variances = [], [], []
        for part, v in ((1.0 - chance, plain), (chance, slipped)):
            s = v + r[:, None]
            gap = z[:, None] - self.mean
            logs.append(part * np.exp(-0.5 * gap**2 / s) / np.sqrt(s) + 1e-290)
            means.append(self.mean + v / s * gap)
            variances.append(v * r[:, None] / s)
        like = logs[0] + logs[1]
        share = logs[1] / like
        mean = means[0] + share * (means[1] - means[0])
        spread = share * (1.0 - share) * (means[1] - means[0]) ** 2
        self.variance = variances[0] * (1.0 - share) + variances[1] * share + spread
        self.mean = mean
        self.weight = self.weight * like
        self.weight /= self.weight.sum(axis=1, keepdims=True)
        self.moved[:] = False

    def turned(self, who: NDArray[np.int64], u: Array, settling: Array, nature: Nature, first: Array) -> None:
        """Each shop of `who` was turned by its u; the first time the approach may take up the backlash."""
        b = nature.backlash
        self.mean[who] -= self.g[None, :] * u[:, None]
        self.mean[who] += (first * b / 4.0)[:, None]
        added = settling**2 + first * (b**2 / 6.0 - b**2 / 16.0)
        self.variance[who] += added[:, None]
        self.moved[who] = True

    def chance_in(self, who: NDArray[np.int64], u: Array, more: Array) -> Array:
        """Chance to be in after u, with `more` variance."""
        mean = self.mean[who] - self.g[None, :] * u[:, None]
        sd = np.sqrt(self.variance[who] + more[:, None])
        inside = ndtr((TOLERANCE - mean) / sd) - ndtr((-TOLERANCE - mean) / sd)
        answer: Array = (self.weight[who] * inside).sum(axis=1)
        return answer

    def best_move(self, who: NDArray[np.int64], more: Array) -> Array:
        """Of the moves that are right for some node, the one with the best chance to be in."""
        x = (self.weight[who] * self.mean[who]).sum(axis=1)
        best, best_chance = np.zeros(len(who)), np.full(len(who), -1.0)
        for g in self.g:
            chance = self.chance_in(who, x / g, more)
            better = chance > best_chance
            best[better], best_chance[better] = (x / g)[better], chance[better]
        return best


def run_variance(sled: Sled, nature: Nature) -> float:
    """What one run of this shop really scatters by."""
    reads = (nature.caliper**2 / 3.0 + DIGIT_IN**2 / 12.0) * 2.0 / READS / (4.0 * LENGTH_IN) ** 2
    return float((sled.swing**2 + sled.seating**2) / 4.0 + reads)


def sessions(sleds: list[Sled], nature: Nature, evidence: int, stay: float) -> list[Told]:
    """One session of each. `evidence`: runs in a row within the tolerance that end it; 0: its own chance of 95 %.

    It measures again rather than turn where its chance to be in is at least `stay`.
    """
    told: list[Told] = []
    for start in range(0, len(sleds), BATCH):
        told += _batch(sleds[start : start + BATCH], nature, evidence, stay)
    return told


def _batch(sleds: list[Sled], nature: Nature, evidence: int, stay: float) -> list[Told]:
    told = [Told() for _ in sleds]
    belief = Belief.first(nature, len(sleds))
    r = np.array([run_variance(sled, nature) for sled in sleds])
    settling = np.array([sled.settling for sled in sleds])
    in_row, any_move = np.zeros(len(sleds), dtype=int), np.zeros(len(sleds), dtype=bool)
    open_ = np.arange(len(sleds))
    for _ in range(MOST_RUNS):
        z = np.zeros(len(sleds))
        for i in open_:
            z[i] = angle_of(sleds[i].five_cut())
            told[i].runs += 1
        keep = _some(belief, open_)
        keep.found(z[open_], r[open_], nature)
        _put(belief, keep, open_)
        inside = belief.chance_in(open_, np.zeros(len(open_)), np.zeros(len(open_)))
        in_row[open_] = np.where(np.abs(z[open_]) <= TOLERANCE, in_row[open_] + 1, 0)
        done = inside >= SURE if evidence == 0 else in_row[open_] >= evidence
        for i, p in zip(open_[done], inside[done], strict=True):
            told[i].proven, told[i].stated = True, float(p)
            told[i].ended(sleds[i].x, "seen in")
        turn = ~done & (inside < stay)
        _turn_all(belief, open_[turn], sleds, told, settling, any_move, nature)
        in_row[open_[turn]] = 0
        open_ = open_[~done]
        if not len(open_):
            break
    for i in open_:
        told[i].ended(sleds[i].x, "gave up")
    return told


def _turn_all(
    belief: Belief,
    who: NDArray[np.int64],
    sleds: list[Sled],
    told: list[Told],
    settling: Array,
    any_move: NDArray[np.bool_],
    nature: Nature,
) -> None:
    if not len(who):
        return
    first = np.where(any_move[who], 0.0, 1.0)
    wanted = belief.best_move(who, settling[who] ** 2)
    u = np.array([sleds[i].can_turn(move) for i, move in zip(who, wanted, strict=True)])
    for i, move in zip(who, u, strict=True):
        was = sleds[i].x
        sleds[i].turn(float(move), approach=1)
        told[i].turned(was, sleds[i].x)
    belief.turned(who, u, settling[who], nature, first)
    any_move[who] = True


def _some(belief: Belief, who: NDArray[np.int64]) -> Belief:
    return Belief(belief.g, belief.weight[who], belief.mean[who], belief.variance[who], belief.moved[who])


def _put(belief: Belief, part: Belief, who: NDArray[np.int64]) -> None:
    belief.weight[who], belief.mean[who] = part.weight, part.mean
    belief.variance[who], belief.moved[who] = part.variance, part.moved
