"""Fits whose geometry bends within its spread: their mean, spread, interval and shares are drawn."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trued.job.fits.monte_carlo import Draws, adaptive
from trued.job.fits.sobol_indices import shares_of
from trued.job.geometry.samples import Samples

if TYPE_CHECKING:
    from numpy.random import Generator

    from trued.job.fits.linear_fit import LimitPoint, LinearFit
    from trued.job.geometry.samples import Array

_LEFT_OVER = 0.02
"""Bent: what the first order leaves over spreads by more than this part of the whole spread."""
_LOOKED_AT, _MOST = 4_000, 500_000


@dataclass(frozen=True, slots=True)
class MonteCarloFit:
    """What draws of one spot came to; shares: alone, totals: with all that each interacts with."""

    mean: float
    u: float
    interval: tuple[float, float]
    shares: Mapping[str, float]
    totals: Mapping[str, float]


def bent(looked: LinearFit, spot: LimitPoint, seed: int) -> MonteCarloFit | None:
    """The spot as drawn, to one significant digit of its spread; None where the first order serves."""
    draws = Draws.of(spot.case.inputs)
    means, rows = draws.matrix(spot.case.inputs)

    def at(deviates: Array) -> Array:
        x = tuple(Samples(row) for row in rows @ deviates + means[:, None])
        return looked.geometry.places(x)[spot.place].value.values

    def sample(rng: Generator, count: int) -> Array:
        return at(draws.draw(rng, count))

    first = draws.draw(np.random.default_rng(seed), _LOOKED_AT)
    mean, line = draws.matrix((spot.value,))
    left_over = at(first) - (line @ first)[0] - mean[0]
    if float(np.sqrt(np.mean(left_over**2))) <= _LEFT_OVER * spot.value.u:
        return None
    found = adaptive(sample, seed=seed, digits=1, most=_MOST)
    shares = shares_of(looked, spot, seed)
    return MonteCarloFit(found.mean, found.u, found.interval, shares.alone, shares.total)
