"""Shares of the variance where the geometry is curved: what each error gives alone, and with all it interacts with.

First-order and total indices by drawing two sets of shops and exchanging one error at a time (Jansen 1999; Saltelli et
al., Computer Physics Communications 181 (2010) 259-270, from memory).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trued.job.fits.monte_carlo import Draws
from trued.job.geometry.samples import Samples

if TYPE_CHECKING:
    from trued.job.fits.linear_fit import LimitPoint, LinearFit
    from trued.job.geometry.samples import Array

_COUNT = 8192


@dataclass(frozen=True, slots=True)
class SobolIndices:
    """By label: the part of the variance that the error gives by itself, and the part that goes with it in all."""

    alone: dict[str, float]
    total: dict[str, float]


def shares_of(looked: LinearFit, spot: LimitPoint, seed: int) -> SobolIndices:
    """The shares at one spot, the largest first; empty without any error."""
    draws = Draws.of(spot.case.inputs)
    means, matrix = draws.matrix(spot.case.inputs)

    def value(deviates: Array) -> Array:
        x = tuple(Samples(row) for row in matrix @ deviates + means[:, None])
        return looked.geometry.places(x)[spot.place].value.values

    rng = np.random.default_rng(seed)
    one, two = draws.draw(rng, _COUNT), draws.draw(rng, _COUNT)
    here, there = value(one), value(two)
    variance = float(np.var(np.concatenate([here, there])))
    if variance <= 0.0:
        return SobolIndices({}, {})
    alone, total = {}, {}
    for label in dict.fromkeys(source.label for source in draws.sources):
        mixed = one.copy()
        rows = [row for row, source in enumerate(draws.sources) if source.label == label]
        mixed[rows] = two[rows]
        exchanged = value(mixed)
        alone[label] = max(0.0, 1.0 - float(np.mean((there - exchanged) ** 2)) / (2.0 * variance))
        total[label] = float(np.mean((here - exchanged) ** 2)) / (2.0 * variance)
    order = sorted(total, key=lambda label: (-total[label], label))
    kept = [label for label in order if total[label] > 1e-4]
    return SobolIndices({label: alone[label] for label in kept}, {label: total[label] for label in kept})
