"""All fits of a job in the same draws: what they share, they share here too.

The chance that a whole job goes together is not the product of its fits' chances, because one stop, one board and one
caliper are in all of them. Every draw is one shop in which all the parts are cut; a fit holds in it or does not.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from trued.job.fits.linear_fit import CopyChoice, LinearFit, bounds
from trued.job.fits.monte_carlo import ONE_RUN, Draws
from trued.job.geometry.fit_geometry import LimitPlace
from trued.job.geometry.samples import Samples
from trued.measure.estimate import UncertainValue

if TYPE_CHECKING:
    from trued.job.geometry.samples import Array

_PIECE = 2_000  # draws that are held at once: few enough to stay near the processor
LEAST_DRAWS, MOST_DRAWS = 2 * ONE_RUN, 50 * ONE_RUN
CLOSE = 0.005
"""Twice the standard error of a chance is brought below this."""


@dataclass(frozen=True, slots=True)
class _Fit:
    """Where a fit's rows lie: plain places by themselves, or for each case the inputs of its geometry."""

    looked: LinearFit
    first: int
    plain: tuple[LimitPlace[UncertainValue], ...]

    def places(self, values: Array) -> Iterator[tuple[LimitPlace[UncertainValue], Array]]:
        """Every place with its values, from the rows of all fits."""
        at = self.first
        if self.plain:
            yield from ((place, values[at + i]) for i, place in enumerate(self.plain))
            return
        for case in self.looked.cases:
            x = tuple(Samples(values[at + i]) for i in range(len(case.inputs)))
            at += len(case.inputs)
            for place, drawn in zip(case.places, self.looked.geometry.places(x), strict=True):
                yield place, drawn.value.values

    def holds(self, values: Array) -> Array:
        """In which draws it lies within its limits at every place."""
        held = np.ones(values.shape[1], dtype=bool)
        for place, there in self.places(values):
            low, high = bounds(self.looked.limits, place.against)
            if low is not None:
                held &= there >= low
            if high is not None:
                held &= there <= high
        return held


@dataclass(frozen=True, slots=True)
class JointProbability:
    """The fits ready to be drawn."""

    fits: tuple[_Fit, ...]
    draws: Draws
    means: Array
    matrix: Array

    def values(self, deviates: Array) -> Array:
        """What every row comes to."""
        return self.matrix @ deviates + self.means[:, None]

    def holds(self, deviates: Array) -> list[Array]:
        """In which draws each fit holds."""
        values = self.values(deviates)
        return [fit.holds(values) for fit in self.fits]


@dataclass(frozen=True, slots=True)
class JointCount:
    """Of so many draws, in how many each fit held, and in how many all did."""

    draws: int
    each: tuple[int, ...]
    together: int


def put_together(looked: Sequence[LinearFit]) -> JointProbability:
    """All fits with the sources that they rest on."""
    rows: list[UncertainValue] = []
    fits = []
    for one in looked:
        plain = tuple(_distinct(one.cases)) if one.geometry.straight else ()
        fits.append(_Fit(one, len(rows), plain))
        rows += [p.value for p in plain] if plain else [x for case in one.cases for x in case.inputs]
    draws = Draws.of(rows)
    return JointProbability(tuple(fits), draws, *draws.matrix(rows))


def _distinct(cases: Sequence[CopyChoice]) -> Iterator[LimitPlace[UncertainValue]]:
    """The places of all cases, those that are the same in every draw only once."""
    seen = set()
    for case in cases:
        for place in case.places:
            if (place.value, place.against) not in seen:
                seen.add((place.value, place.against))
                yield place


def count(of: JointProbability, seed: int, draws: int | None = None) -> JointCount:
    """Draw until every chance stands to half a point, or exactly `draws` of them."""
    rng = np.random.default_rng(seed)
    each, together, drawn = np.zeros(len(of.fits), dtype=int), 0, 0
    while drawn < (LEAST_DRAWS if draws is None else draws) or (draws is None and _open(each, together, drawn)):
        some = min(_PIECE, (draws or MOST_DRAWS) - drawn)
        piece = of.draws.draw(rng, some)
        held = of.holds(piece)
        each += [int(one.sum()) for one in held]
        together += int(np.logical_and.reduce(held).sum())
        drawn += some
    return JointCount(drawn, tuple(int(one) for one in each), together)


def without(of: JointProbability, label: str, factor: float) -> Array:
    """What every source is multiplied by when the errors of one label shrink by a factor, and are then set right."""
    return np.array(
        [1.0 if s.label != label else 0.0 if s.key.endswith(":known") else factor for s in of.draws.sources]
    )


def counts(of: JointProbability, seed: int, draws: int, factors: Sequence[Array]) -> list[JointCount]:
    """The same shops counted once for each set of factors on their errors."""
    rng = np.random.default_rng(seed)
    each = np.zeros((len(factors), len(of.fits)), dtype=int)
    together, drawn = np.zeros(len(factors), dtype=int), 0
    while drawn < draws:
        piece = of.draws.draw(rng, min(_PIECE, draws - drawn))
        for number, factor in enumerate(factors):
            held = of.holds(piece * factor[:, None])
            each[number] += [int(one.sum()) for one in held]
            together[number] += int(np.logical_and.reduce(held).sum())
        drawn += piece.shape[1]
    return [JointCount(drawn, tuple(int(n) for n in row), int(all_)) for row, all_ in zip(each, together, strict=True)]


def _open(each: Array, together: int, drawn: int) -> bool:
    """Whether some chance does not stand yet; looked at after every run of the adaptive rule."""
    if drawn % ONE_RUN or drawn >= MOST_DRAWS:
        return drawn < MOST_DRAWS
    share = np.append(each, together) / drawn
    return bool(np.any(2.0 * np.sqrt(share * (1.0 - share) / drawn) > CLOSE))
