"""How sure a chance is itself: its scatters are known from few readings, and it was counted from so many draws."""

from __future__ import annotations

import math
from dataclasses import replace

from trued.measure.distribution.chi_square import chi_square_quantile
from trued.measure.estimate import UncertainValue, chance_between

_TWO_SIDED = 1.959964
_LEAST_DOF = 0.5


def probability_range(x: UncertainValue, low: float | None, high: float | None) -> tuple[float, float]:
    """The chances between the limits if the scatters were as small and as large as 95 times in 100 they may be.

    A scatter known from ν readings is itself known to within a factor: ν s²/σ² follows chi-square.
    """
    open_ = {source: c for source, c in x.parts.items() if math.isfinite(source.dof)}
    dof = max(_LEAST_DOF, UncertainValue(0.0, open_).dof)
    if not open_ or math.isinf(dof):
        p = chance_between(x, low, high)
        return p, p
    factors = [1.0, *(math.sqrt(dof / chi_square_quantile(side, dof)) for side in (0.975, 0.025))]
    chances = [chance_between(_known(x, factor), low, high) for factor in factors]
    return min(chances), max(chances)


def shifted(chance: float, from_: float, to: tuple[float, float], draws: int = 0) -> tuple[float, float]:
    """The range of a chance that moves in its odds as another one, `from_`, does; wider by what `draws` cannot tell."""
    error = _TWO_SIDED * math.sqrt(chance * (1.0 - chance) / draws) if draws else 0.0
    ends = [_chance(_odds(chance) + _odds(end) - _odds(from_)) for end in to]
    low, high = min(*ends, chance), max(*ends, chance)
    return max(0.0, low - error), min(1.0, high + error)


def _known(x: UncertainValue, factor: float) -> UncertainValue:
    """The value with every scatter that is itself uncertain so many times larger, and then known."""
    return UncertainValue(
        x.value,
        {
            (replace(source, dof=math.inf) if math.isfinite(source.dof) else source): (
                c * factor if math.isfinite(source.dof) else c
            )
            for source, c in x.parts.items()
        },
    )


def _odds(chance: float) -> float:
    inside = min(1.0 - 1e-9, max(1e-9, chance))
    return math.log(inside / (1.0 - inside))


def _chance(odds: float) -> float:
    return 1.0 / (1.0 + math.exp(-odds))
