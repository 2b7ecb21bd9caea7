"""An exact filter that must learn the yaw: it starts from what bar play's swing tells of it, and knows all else.

For each of some yaws one exact filter goes along; they are weighed by the law of the swing and by how likely each
makes what was found. The reading noise of the caliper is told, which the tool has to learn.
"""

from __future__ import annotations

import numpy as np
from benchmarks.virtual.ahead import Noise
from benchmarks.virtual.exact import Exact, Moments, Told
from benchmarks.virtual.lots import CUTS, DIGIT_MM, ENGAGED_MM, Array, Bools, Ints, Lot
from benchmarks.virtual.oracle_sessions import Oracle
from numpy.polynomial.hermite_e import hermegauss

MEDIAN, LOG_SD, READING_MM = 3.5, 0.3, 0.01
SHARE = np.array([[1.0], [0.7]])  # of the swing, at the start and at the end of the travel
YAWS = 9


def yaws(lot: Lot) -> tuple[Array, Array]:
    """(yaw, logarithm of its weight), each (shops, yaws), flat in the logarithm but for the swing."""
    engaged = SHARE * np.array(list(ENGAGED_MM.values()))[:, None]
    noise = READING_MM**2 + DIGIT_MM**2 / 12.0
    swing = (engaged * lot.play_mm).sum(axis=0) / (engaged**2).sum()
    sd = float(np.sqrt(noise / (engaged**2).sum()))
    middle = np.log(np.maximum(swing, sd) / MEDIAN)
    at = np.linspace(-3.2, 3.2, YAWS) * np.sqrt(LOG_SD**2 + (sd / np.maximum(swing, sd)) ** 2)[:, None]
    yaw = np.exp(middle[:, None] + at)
    z, share = hermegauss(15)
    would = MEDIAN * yaw[:, :, None] * np.exp(LOG_SD * z)
    weight = (share * np.exp(-0.5 * ((swing[:, None, None] - would) / sd) ** 2)).sum(axis=2)
    return yaw, np.log(np.maximum(weight, 1e-300))


class Weighed(Exact):
    """It also keeps how likely it makes what was found."""

    lost: Array

    def found(self, who: Ints, z: Array, r: Array) -> None:
        """One run each."""
        s = self.v[who] + r
        self.lost[who] += np.where(np.isfinite(s), -0.5 * (np.log(s) + (z - self.a[who]) ** 2 / s), 0.0)
        Exact.found(self, who, z, r)

    def evidence(self, who: Ints) -> Array:
        """Logarithm of it, up to what all yaws share."""
        answer: Array = self.lost[who] + self.weighed(who)
        return answer


class Yaws:
    """Beliefs for each yaw, and their mixture."""

    def __init__(self, lot: Lot) -> None:
        self.yaw, self.log = yaws(lot)
        reading = lot.run_variance - lot.yaw**2 / CUTS
        self.r = self.yaw**2 / CUTS + reading[:, None]
        self.each = [Weighed.first(lot.shops) for _ in range(YAWS)]
        for one in self.each:
            one.lost = np.zeros(lot.shops)

    def found(self, who: Ints, z: Array, _r: Array) -> None:
        """One run each."""
        for k, one in enumerate(self.each):
            one.found(who, z, self.r[who, k])

    def turned(self, who: Ints, u: Array, settling: Array, first: Bools) -> None:
        """Turned by u."""
        for one in self.each:
            one.turned(who, u, settling, first)

    def weights(self, who: Ints) -> Array:
        """Of the yaws: (shops, yaws)."""
        log = self.log[who] + np.stack([one.evidence(who) for one in self.each], axis=1)
        weight = np.exp(log - log.max(axis=1, keepdims=True))
        answer: Array = weight / weight.sum(axis=1, keepdims=True)
        return answer

    def told(self, who: Ints) -> Told:
        """The mixture's chances and moments."""
        w = self.weights(who).T
        all_ = [one.told(who) for one in self.each]

        def mean(values: list[Array]) -> Array:
            answer: Array = (w * np.stack(values)).sum(axis=0)
            return answer

        x, g = mean([t.moments.x for t in all_]), mean([t.moments.g for t in all_])
        moments = Moments(
            x,
            g,
            mean([t.moments.xx + (t.moments.x - x) ** 2 for t in all_]),
            mean([t.moments.xg + (t.moments.x - x) * (t.moments.g - g) for t in all_]),
            mean([t.moments.gg + (t.moments.g - g) ** 2 for t in all_]),
        )
        return Told(mean([t.inside for t in all_]), mean([t.above for t in all_]), moments)


class SwingTold(Oracle):
    """The session after bar play and caliper, by who has to learn the yaw."""

    def __init__(self, lot: Lot) -> None:
        super().__init__(lot, pair=True)
        self._yaws = Yaws(lot)
        # its noise is its own copy: what is believed of it changes as it learns
        self._noise = Noise(self._noise.r.copy(), self._noise.q, self._noise.step)
        self._belief = self._yaws  # type: ignore[assignment]

    def _choice(self, told: Told, stay: Bools, open_: Ints) -> tuple[Bools, Array]:
        who = open_[stay]
        self._noise.r[who] = (self._yaws.weights(who) * self._yaws.r[who]).sum(axis=1)
        return super()._choice(told, stay, open_)
