"""What is believed of a followed feature, as a value with its sources, and the chance that it lies within limits."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime

from trued.measure.decision import Chances, ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.error_split import COMMON, RUN, own_run
from trued.standing.feature import said
from trued.standing.filtered.filtered_feature import FilteredFeature
from trued.standing.filtered.gain_mixture import SLIPPED, GainMixture
from trued.standing.filtered.observed_gain import BACKLASH, gain_fault
from trued.standing.repeats.repeat_runs import DAY


@dataclass(frozen=True, slots=True)
class Posterior:
    """A track at one moment. `scatter`: the least known of those between runs that its findings have; `days` since
    the last finding."""

    track: FilteredFeature
    response: GainMixture
    scatter: EstimatedSd | None
    days: float = 0.0

    @classmethod
    def at(cls, track: FilteredFeature, now: datetime, scatter: EstimatedSd | None) -> Posterior:
        """As it stands at that time, a filter's days later."""
        return cls(track, track.aged(now), scatter, (now - track.last.at).total_seconds() / DAY)

    @property
    def value(self) -> UncertainValue:
        """Mean and variance, with sources.

        After one finding these are the finding's own and what was added since; later the scatter between runs, as well
        known as it is, and all the rest. What runs share stays itself.
        """
        if self.track.findings > 1:
            response = self.response
            return self._two_sources(response.x, response.variance, response.run_variance)
        found = own_run(self.track.last.x, self.track.last.run, self.scatter)
        own = sum((c * s.u) ** 2 for s, c in found.parts.items() if not s.key.startswith(COMMON))
        added = math.sqrt(max(0.0, self.response.variance - own))
        parts = dict(found.parts)
        if added > 1e-9 * math.sqrt(own):
            name = self.track.last.feature
            parts[ErrorSource(f"since:{name}", f"{said(name)}: moves, events and time since", added)] = 1.0
        return UncertainValue(self.response.x, parts)

    @property
    def blunder(self) -> str:
        """What is wrong with the moves: by the filter, or by what the last of them brought by themselves; "" else."""
        named, told = self.track.cases.blunder, gain_fault(self.track.arrivals)
        return told if not named or (named == SLIPPED and told == BACKLASH) else named

    def chance_in(self, limits: ToleranceLimits) -> float:
        """Chance within the limits."""
        return self.chances(limits).inside

    def chances(self, limits: ToleranceLimits) -> Chances:
        """Chances below the limits, inside and above."""
        return Chances.of(self.value, limits)

    def one_sided(self, place: float) -> bool:
        """Whether what is believed lies on one side of that place, sure enough: then the way to it is known."""
        return self.chances(ToleranceLimits(None, place)).one_sided()

    def after(self, move: float, settling: float) -> UncertainValue:
        """What will be believed of it after a move that settles by that standard deviation."""
        belief = self.response.likeliest.belief.moved(move, settling)
        return self._two_sources(belief.x, belief.xx, belief.run_xx)

    def _two_sources(self, x: float, variance: float, run: float) -> UncertainValue:
        name = self.track.last.feature
        dof = self.scatter.dof if self.scatter is not None else math.inf
        runs = ErrorSource(
            f"standing:{name}:runs", f"{said(name)}: scatter between runs", math.sqrt(max(run, 0.0)), dof
        )
        rest_u = math.sqrt(max(variance - run, 0.0))
        rest = ErrorSource(f"standing:{name}", f"{said(name)}: readings, moves and time", rest_u, self._readings_dof())
        return UncertainValue(x, {runs: 1.0, rest: 1.0, **self.track.shared})

    def _readings_dof(self) -> float:
        parts = self.track.last.x.parts
        return UncertainValue(0.0, {s: c for s, c in parts.items() if not s.key.startswith((RUN, *COMMON))}).dof
