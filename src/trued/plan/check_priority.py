"""What to true first for this job, and what to leave alone.

For each error that a check teaches: how much the chance of a fit rises when the check has been made, for a minute of
work. What is an offset or an angle is then known, and set right, to about what the check can show; what is a scatter
is not made smaller by knowing it, and is put right to its tolerance. Every case is drawn in the same shops, so that
two cases differ by their change alone. Safety items are not ranked: they come before any of this.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, replace

from trued.equipment.shop import Shop
from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.fits.fit import SEED, together_of
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.cuts.cut_errors import TAUGHT_BY, CutErrors
from trued.standing.feature import feature_of, full_name
from trued.standing.owner import owner_of

WORTH = 0.005
"""A rise of the chance below this is not worth a minute."""
MOST = 3
_DRAWS = 20_000
_MIL = 0.0254
_KNOWN, _RIGHT = "known better", "put right"
DETENT = "detent-angle"
DETENT_LEFT = 6e-5  # rad a cut, with feelers to 0.0015 in over eight of them: common practice


@dataclass(frozen=True, slots=True)
class CheckPriority:
    """One feature to look at. `chance_gain` of the fit that gains most, `fit`; `job_gain` of all of it together.

    how: `known better` (and set by it), or `put right` to its tolerance.
    """

    feature: str
    check: str
    minutes: float
    chance_gain: float
    fit: str
    job_gain: float
    how: str


@dataclass(frozen=True, slots=True)
class Advice:
    """first: at most three, the most for a minute first. do_not_bother: what would change no fit of this job."""

    first: tuple[CheckPriority, ...]
    do_not_bother: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Left:
    """What is believed of an error now, and what is left of it when its check has been made; in its own unit."""

    now: Callable[[CutErrors], float]
    left: float
    how: str

    def factor(self, holds: CutErrors) -> float:
        """By how much the error shrinks."""
        now = self.now(holds)
        return min(1.0, self.left / now) if now > 0.0 else 1.0


_LEFT: Mapping[str, _Left] = {
    # What a check leaves: common practice, with a caliper to 0.001 in.
    "stop scale": _Left(lambda holds: holds.length_at(300.0).u, 1.5 * _MIL, _KNOWN),
    "fence angle": _Left(lambda holds: holds.fence_angle.u, 6e-5, _KNOWN),
    "rip scale": _Left(lambda holds: holds.rip_offset.u, 2 * _MIL, _KNOWN),
    # Scatters: the tolerance of the feature (a play of 0.004 in on a bar of 20 in), or what a good feed keeps.
    "stop repeatability": _Left(lambda holds: holds.stop_repeat_u_mm, 1.5 * _MIL, _RIGHT),
    "bar swing": _Left(lambda holds: holds.swing_u_rad, 1.2e-4, _RIGHT),
    "rip setting repeatability": _Left(lambda holds: holds.rip_setting_u_mm, 3 * _MIL, _RIGHT),
    "rip width repeatability": _Left(lambda holds: holds.rip_repeat_u_mm, 2 * _MIL, _RIGHT),
}


def advice(budget: UncertaintyBudget, shop: Shop, checks: Collection[str], *, seed: int = SEED) -> Advice:
    """What is worth looking at for the fits of this job. checks: ids of the checks that there are."""
    together = together_of(budget)
    if not together.fits:
        return Advice((), ())
    labels = [label for label, (_, check) in TAUGHT_BY.items() if check in checks]
    found = list(_trials(budget, shop, labels, seed))
    if DETENT in checks:
        found += _detents(budget, seed)
    worth = [one for one in found if one.chance_gain >= WORTH]
    first = sorted(worth, key=lambda one: -one.chance_gain / one.minutes)[:MOST]
    named = {one.feature for one in worth}
    names = dict.fromkeys(full_name(owner_of(TAUGHT_BY[label][0], shop), TAUGHT_BY[label][0]) for label in labels)
    names |= dict.fromkeys(at.feature for at in budget.at_angles.values())
    return Advice(tuple(first), tuple(name for name in names if name not in named))


def _detents(budget: UncertaintyBudget, seed: int) -> Iterator[CheckPriority]:
    """Each detent that a fit is cut at: found by its own check, and set right to about what that check can show."""
    from trued.job.fits.joint_probability import count

    now = count(together_of(budget), seed, _DRAWS)
    for angle, at in budget.at_angles.items():
        if math.hypot(at.error.value, at.error.u) <= DETENT_LEFT:
            continue  # its check would leave no less
        right = UncertainValue.of(0.0, ErrorSource(f"trued:{at.label}", at.label, min(DETENT_LEFT, at.error.u)))
        there = {**budget.at_angles, angle: replace(at, error=right)}
        trued = together_of(replace(budget, at_angles=there))
        then = count(trued, seed, _DRAWS)
        rises = [(after - before) / now.draws for before, after in zip(now.each, then.each, strict=True)]
        most = max(range(len(rises)), key=rises.__getitem__)
        known = feature_of("detent-angle")
        yield CheckPriority(
            at.feature,
            DETENT,
            known.minutes,
            rises[most],
            trued.fits[most].looked.spec.id,
            (then.together - now.together) / now.draws,
            _KNOWN,
        )


def _trials(budget: UncertaintyBudget, shop: Shop, labels: Collection[str], seed: int) -> Iterator[CheckPriority]:
    """Each error that is in a fit, with what its check would bring."""
    from trued.job.fits.joint_probability import counts, without

    together = together_of(budget)
    there = {source.label for source in together.draws.sources}
    tried = [label for label in labels if label in _LEFT and label in there]
    changes = [without(together, label, _LEFT[label].factor(budget.holds)) for label in tried]
    now, *after = counts(together, seed, _DRAWS, [without(together, "", 1.0), *changes])
    for label, counted in zip(tried, after, strict=True):
        rises = [(then - before) / now.draws for before, then in zip(now.each, counted.each, strict=True)]
        most = max(range(len(rises)), key=rises.__getitem__)
        feature, check = TAUGHT_BY[label]
        yield CheckPriority(
            full_name(owner_of(feature, shop), feature),
            check,
            feature_of(feature).minutes,
            rises[most],
            together.fits[most].looked.spec.id,
            (counted.together - now.together) / now.draws,
            _LEFT[label].how,
        )
