"""An exact filter over lots of fences: it knows each shop's yaw, reading noise and settling, and the laws of all else.

Given the response g and the play d that the first turn takes up, what is wrong is Gaussian, its mean a + b g + c d and
its variance the same for all g and d; the logarithm of what was found, given g and d, is a quadratic in them. So the
belief is exact: a few numbers a shop, weighed by the true laws of g (lognormal) and d (nought, or evenly spread) on a
grid laid anew about what is left. Only what is wrong at first is taken for flat, and runs are far narrower than it.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Self

import numpy as np
from benchmarks.virtual.lots import TOLERANCE, Array, Ints, Lot
from numpy.typing import NDArray
from scipy.special import ndtr

NODES = 81
PLAY = 5  # nodes of the play that the first turn takes up
SURE = 0.95
BACKLASH_IN, BACKLASH_MOST = 0.4, 1.5e-4
RESPONSE_LOG_SD = 0.25
Bools = NDArray[np.bool_]


@dataclass(slots=True)
class Exact:
    """One entry a shop. mean = a + b g + c d, variance v; log-likelihood -0.5 (q0 + 2 q1.(g, d) + (g, d) q2 (g, d))."""

    a: Array
    b: Array
    c: Array
    v: Array
    gg: Array
    gd: Array
    dd: Array
    g1: Array
    d1: Array
    spread: Array = field(default_factory=lambda: np.zeros(0))

    @classmethod
    def first(cls, shops: int) -> Self:
        """Before anything was found."""
        nought = [np.zeros(shops) for _ in range(9)]
        belief = cls(*nought)
        belief.v[:] = np.inf
        return belief

    def found(self, who: Ints, z: Array, r: Array) -> None:
        """One run each."""
        v = self.v[who]
        flat = ~np.isfinite(v)
        s = np.where(flat, 1.0, v + r)
        gain = np.where(flat, 1.0, v / s)
        miss = z - self.a[who]
        told = np.where(flat, 0.0, 1.0 / s)  # a flat start learns nothing of g from its first run
        b, c = self.b[who], self.c[who]
        self.gg[who] += told * b * b
        self.gd[who] += told * b * c
        self.dd[who] += told * c * c
        self.g1[who] += told * b * miss
        self.d1[who] += told * c * miss
        self.a[who] += gain * miss
        self.b[who] = b * (1.0 - gain)
        self.c[who] = c * (1.0 - gain)
        self.v[who] = np.where(flat, r, gain * r)

    def turned(self, who: Ints, u: Array, settling: Array, first: Bools) -> None:
        """Turned by u, the place come to by opening; `first`: it may take up the play."""
        self.b[who] -= u
        self.c[who] += first
        self.v[who] += settling**2

    def thrown(self, who: Ints) -> None:
        """An event threw it nobody knows how far: what was learnt of g stays."""
        self.v[who] = np.inf
        self.a[who] = self.b[who] = self.c[who] = 0.0

    def nodes(self, who: Ints) -> tuple[Array, Array, Array]:
        """(g, d, weight), each (shops, nodes): the grid lies where the likelihood and the law of g leave any weight."""
        precision = self.gg[who] + 1.0 / (1.4 * RESPONSE_LOG_SD) ** 2
        middle = (self.g1[who] + 1.0 / (1.4 * RESPONSE_LOG_SD) ** 2) / precision
        # the play may pull the likelihood of g by as much as it moved it
        reach = 6.0 / np.sqrt(precision) + np.abs(self.gd[who]) * BACKLASH_MOST / precision
        g = np.clip(middle, 0.3, 3.0)[:, None] + np.linspace(-1.0, 1.0, NODES)[None, :] * reach[:, None]
        prior = np.where(g > 0.2, np.exp(-0.5 * (np.log(np.maximum(g, 0.2)) / RESPONSE_LOG_SD) ** 2) / g, 0.0)
        play = np.concatenate(([0.0], (np.arange(PLAY - 1) + 0.5) * BACKLASH_MOST / (PLAY - 1)))
        share = BACKLASH_IN / 2.0
        law = np.concatenate(([1.0 - share], np.full(PLAY - 1, share / (PLAY - 1))))
        gs, ds = g[:, :, None], play[None, None, :]
        log = -0.5 * (
            self.gg[who, None, None] * gs * gs
            + 2.0 * self.gd[who, None, None] * gs * ds
            + self.dd[who, None, None] * ds * ds
        )
        # with z - a - b g - c d as the miss, the linear terms carry the miss's sign
        log = log + self.g1[who, None, None] * gs + self.d1[who, None, None] * ds
        most = log.max(axis=(1, 2), keepdims=True)
        weight = np.exp(log - most) * prior[:, :, None] * law[None, None, :]
        total = weight.sum(axis=(1, 2), keepdims=True)
        weight /= total
        self.spread = (most + np.log(total * (g[:, 1] - g[:, 0])[:, None, None]))[:, 0, 0]
        shape = (len(who), NODES * PLAY)
        return (
            np.broadcast_to(gs, weight.shape).reshape(shape),
            np.broadcast_to(ds, weight.shape).reshape(shape),
            weight.reshape(shape),
        )

    def weighed(self, who: Ints) -> Array:
        """Logarithm of how likely the response and the play make what was found, up to what no filter shares."""
        self.nodes(who)
        return self.spread

    def told(self, who: Ints) -> Told:
        """What is believed: chance to be in, chance to lie above nought, and the moments of (x, g)."""
        g, d, weight = self.nodes(who)
        mean = self.a[who, None] + self.b[who, None] * g + self.c[who, None] * d
        sd = np.sqrt(self.v[who])[:, None]
        inside = (weight * (ndtr((TOLERANCE - mean) / sd) - ndtr((-TOLERANCE - mean) / sd))).sum(axis=1)
        above = (weight * ndtr(mean / sd)).sum(axis=1)
        x, response = (weight * mean).sum(axis=1), (weight * g).sum(axis=1)
        dx, dg = mean - x[:, None], g - response[:, None]
        return Told(
            inside,
            above,
            Moments(
                x,
                response,
                self.v[who] + (weight * dx * dx).sum(axis=1),
                (weight * dx * dg).sum(axis=1),
                (weight * dg * dg).sum(axis=1),
            ),
        )


@dataclass(frozen=True, slots=True)
class Moments:
    """Means and covariance of what is wrong and of the response."""

    x: Array
    g: Array
    xx: Array
    xg: Array
    gg: Array

    def some(self, which: Ints | Bools) -> Moments:
        """Of some shops."""
        return Moments(self.x[which], self.g[which], self.xx[which], self.xg[which], self.gg[which])


@dataclass(frozen=True, slots=True)
class Told:
    """Chances and moments of some shops."""

    inside: Array
    above: Array
    moments: Moments


def knows(lot: Lot) -> tuple[Array, Array]:
    """(variance of one run, standard deviation of settling), as they really are."""
    return lot.run_variance, lot.settling
