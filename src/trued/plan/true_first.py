"""What to true first for this job, and what to leave alone.

First form: for each error that a check can sharpen, how much the chance of the fits would rise if that error were
known exactly, for a minute of measuring. Safety items are not ranked: they come before any of this.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from trued.job.fit import FitResult
from trued.measure.estimate import Source, Uncertain, chance_between
from trued.shop.capability import TAUGHT_BY
from trued.shop.feature import FEATURES, full_name
from trued.shop.shop import Shop
from trued.shop.thing import thing_of

WORTH = 0.005
"""A rise of the chance below this is not worth a minute."""


@dataclass(frozen=True, slots=True)
class TrueFirst:
    """One feature to look at. `chance_gain` of the fit that gains most, `fit`, if the error were known exactly.

    variance_mm2_per_min: what the check takes from the variance of that fit at most, for each minute.
    """

    feature: str
    check: str
    minutes: float
    chance_gain: float
    fit: str
    variance_mm2_per_min: float


def true_first(fits: Sequence[FitResult], shop: Shop, checks: Collection[str]) -> tuple[TrueFirst, ...]:
    """The features worth looking at, the most for a minute first. checks: ids of the checks that there are."""
    found = [one for label in TAUGHT_BY if (one := _gain(label, fits, shop, checks)) is not None]
    worth = [one for one in found if one.chance_gain >= WORTH]
    return tuple(sorted(worth, key=lambda one: (-one.chance_gain / one.minutes, -one.variance_mm2_per_min)))


def do_not_bother(fits: Sequence[FitResult], shop: Shop, checks: Collection[str]) -> tuple[str, ...]:
    """Features that a check could sharpen, and that would change no fit of this job."""
    if not fits:
        return ()
    names: dict[str, None] = {}
    for label, (feature, check) in TAUGHT_BY.items():
        gain = _gain(label, fits, shop, checks)
        if check in checks and (gain is None or gain.chance_gain < WORTH):
            names[_name(feature, shop)] = None
    return tuple(names)


def _gain(label: str, fits: Sequence[FitResult], shop: Shop, checks: Collection[str]) -> TrueFirst | None:
    feature, check = TAUGHT_BY[label]
    touched = [fit for fit in fits if fit.shares.get(label, 0.0) > 0.0 and fit.sd_mm > 0.0]
    if check not in checks or not touched:
        return None
    gains = [(_rise(fit, fit.shares[label]), fit) for fit in touched]
    gain, fit = max(gains, key=lambda pair: pair[0])
    minutes = FEATURES[feature].minutes
    variance = fit.shares[label] * fit.sd_mm**2 / minutes
    return TrueFirst(_name(feature, shop), check, minutes, gain, fit.name, variance)


def _rise(fit: FitResult, share: float) -> float:
    """How much likelier the fit would be without that share of its variance."""
    left = fit.sd_mm * math.sqrt(max(0.0, 1.0 - share))
    rest = Uncertain.of(fit.mean_mm, Source("rest", "rest", left, fit.dof)) if left > 0.0 else Uncertain(fit.mean_mm)
    return chance_between(rest, *fit.limits_mm) - fit.chance


def _name(feature: str, shop: Shop) -> str:
    return full_name(thing_of(feature, shop), feature)
