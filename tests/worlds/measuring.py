"""Instruments that read with an error of their own, and scatters that are known from a few deviations only.

An instrument keeps one error within its limit for a whole run and adds a scatter to every reading; what it shows is
rounded to its step. Nothing of the product is used here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np


def own_scatter(rng: np.random.Generator, s: float, dof: float) -> float:
    """Standard deviation of one shop when shops scatter like s as known from `dof` readings (inverse chi-square)."""
    return s * math.sqrt(dof / rng.chisquare(dof))


def learnt(rng: np.random.Generator, sigma: float, dof: float) -> float:
    """The standard deviation that a shop has seen in `dof` deviations of what really scatters by `sigma`."""
    return sigma * math.sqrt(rng.chisquare(dof) / dof)


@dataclass
class Shown:
    """One instrument in one run; mm."""

    rng: np.random.Generator
    step: float
    sd: float
    error: float

    @classmethod
    def drawn(cls, rng: np.random.Generator, step: float, limit: float, repeat: float) -> Shown:
        return cls(rng, step, repeat, rng.uniform(-limit, limit))

    def read(self, true_mm: float, shown: str = "mm") -> str:
        """What is typed: `25.41mm`, with the digits that a display of that step has."""
        value = true_mm + self.error + self.rng.normal(0.0, self.sd)
        digits = 2 if self.step == 0.01 else 4
        return f"{round(value / self.step) * self.step:.{digits}f}{shown}"


def caliper(rng: np.random.Generator) -> Shown:
    return Shown.drawn(rng, 0.01, 0.02, 0.025)


def rule(rng: np.random.Generator) -> Shown:
    return Shown.drawn(rng, 25.4 / 64, 0.3, 0.2)


def tape(rng: np.random.Generator) -> Shown:
    return Shown.drawn(rng, 25.4 / 64, 0.8, 0.4)


def indicator(rng: np.random.Generator) -> Shown:
    return Shown.drawn(rng, 0.01, 0.02, 0.008)
