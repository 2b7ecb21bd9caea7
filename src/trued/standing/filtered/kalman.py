"""What is wrong and how much of a move arrives, learnt together: a Kalman filter of two states.

x is what is wrong (rad or mm), g the part of a commanded move that arrives. A move u > 0 lowers x: x' = x - g u,
with settling noise; a finding z measures x with variance r. Both are linear in (x, g), because u is known, so
that for Gaussian beliefs the filter is exact. In its special case (g = 1 known, flat start on x, no settling, no
drift, equal findings, every move carried out in full) it is Grubbs' harmonic rule: the n-th move is 1/n of the
n-th deviation (F. E. Grubbs, 1954, reprinted in Journal of Quality Technology 15 (1983) 186-189).
"""

from __future__ import annotations

import math
from typing import NamedTuple

TURN = 2.0 * math.pi


class GaussianState(NamedTuple):
    """Gaussian belief about (x, g): means and covariance. The `run_` part of the covariance is what is owed to the
    scatter between runs alone, whose size is known from few runs; the whole covariance contains it.

    A named tuple, because a history makes thousands of them and a frozen dataclass takes three times as long to make.
    """

    x: float
    g: float
    xx: float
    xg: float
    gg: float
    run_xx: float = 0.0
    run_xg: float = 0.0
    run_gg: float = 0.0

    @classmethod
    def first(cls, z: float, r: float, run_r: float, g: float, gg: float) -> GaussianState:
        """The belief after a first finding when nothing was known of x before it (the limit of a flat start)."""
        return cls(z, g, r, 0.0, gg, run_r)

    def moved(self, u: float, settling: float) -> GaussianState:
        """After the move u, settled with that standard deviation."""
        return GaussianState(
            x=self.x - self.g * u,
            g=self.g,
            xx=self.xx - 2.0 * u * self.xg + u * u * self.gg + settling * settling,
            xg=self.xg - u * self.gg,
            gg=self.gg,
            run_xx=self.run_xx - 2.0 * u * self.run_xg + u * u * self.run_gg,
            run_xg=self.run_xg - u * self.run_gg,
            run_gg=self.run_gg,
        )

    def doubted(self, variance: float) -> GaussianState:
        """After time or an event that added variance to x."""
        xx = self.xx + variance
        return GaussianState(self.x, self.g, xx, self.xg, self.gg, self.run_xx, self.run_xg, self.run_gg)

    def found(self, z: float, r: float, run_r: float) -> GaussianState:
        """After a finding z of variance r, of which run_r is the scatter between runs.

        Products stand where differences would cancel, so that a start ten million million times as wide as a
        finding loses no digit. The run part obeys e_x' = (1 - k_x) e_x + k_x e_z and e_g' = e_g - k_g e_x + k_g e_z.
        """
        s = self.xx + r
        if s == 0.0:
            return self
        kx, kg, left = self.xx / s, self.xg / s, r / s
        return GaussianState(
            x=self.x * left + z * kx,
            g=self.g + kg * (z - self.x),
            xx=self.xx * left,
            xg=self.xg * left,
            gg=self.gg - kg * self.xg,
            run_xx=left * left * self.run_xx + kx * kx * run_r,
            run_xg=left * (self.run_xg - kg * self.run_xx) + kx * kg * run_r,
            run_gg=self.run_gg - 2.0 * kg * self.run_xg + kg * kg * (self.run_xx + run_r),
        )

    def log_chance(self, z: float, r: float) -> float:
        """Logarithm of the density with which a finding z of variance r was to be expected."""
        s = self.xx + r
        miss = z - self.x
        return -0.5 * (math.log(TURN * s) + miss * miss / s)

    def rescaled(self, factor: float) -> GaussianState:
        """After the variance of the scatter between runs is known to be `factor` times what it was taken for."""
        more = factor - 1.0
        xx, xg, gg = self.xx + more * self.run_xx, self.xg + more * self.run_xg, self.gg + more * self.run_gg
        run = factor * self.run_xx, factor * self.run_xg, factor * self.run_gg
        return GaussianState(self.x, self.g, xx, xg, gg, *run)

    def mixed(self, other: GaussianState, share: float) -> GaussianState:
        """One Gaussian with the means and covariance of this belief and, with the chance `share`, the other."""
        dx, dg, between, own = other.x - self.x, other.g - self.g, share * (1.0 - share), 1.0 - share
        return GaussianState(
            x=self.x + share * dx,
            g=self.g + share * dg,
            xx=own * self.xx + share * other.xx + between * dx * dx,
            xg=own * self.xg + share * other.xg + between * dx * dg,
            gg=own * self.gg + share * other.gg + between * dg * dg,
            run_xx=own * self.run_xx + share * other.run_xx,
            run_xg=own * self.run_xg + share * other.run_xg,
            run_gg=own * self.run_gg + share * other.run_gg,
        )

    @property
    def best_move(self) -> float:
        """The move u* after which the expected squared error is least.

        E[(x - g u)^2] = E[x^2] - 2 u E[xg] + u^2 E[g^2], plus settling, which no choice of u changes. Its derivative
        is nought at u* = E[xg] / E[g^2] = (x g + cov(x, g)) / (g^2 + var(g)), means and variances as believed now.
        With g = 1 +- 0.3 and nothing else learnt this is 1 / 1.09 = 0.917 of what was found: what may arrive too
        much is held back.
        """
        return self.move_to(0.0)

    def move_to(self, target: float) -> float:
        """The same for a feature that should come to `target`: E[(x - target - g u)^2] is least."""
        square = self.g * self.g + self.gg
        return ((self.x - target) * self.g + self.xg) / square if square > 0.0 else 0.0

    def expected_square(self, u: float = 0.0, target: float = 0.0) -> float:
        """E[(x - target - g u)^2]: the squared error to expect after the move u, settling left out."""
        return self.moved(u, 0.0).xx + (self.x - target - self.g * u) ** 2
