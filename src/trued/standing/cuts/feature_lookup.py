"""Looking features up among the standings for what the saw holds, each under its own name in a budget."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trued.measure.estimate import ErrorSource, UncertainValue, covariance
from trued.standing.default_uncertainty import TYPE_B, prior
from trued.standing.error_split import LIMIT
from trued.standing.feature import full_name, named
from trued.standing.feature_status import FeatureStatus


class FeatureLookup:
    """Looks features up among the standings, and notes which were assumed and which are stale."""

    def __init__(self, standings: Sequence[FeatureStatus], thing: str, angle: str) -> None:
        self._standings = standings
        self._thing = thing
        self._angle = angle
        self.assumed: list[str] = []
        self.stale: list[str] = []

    def find(self, feature: str, thing: str = "") -> UncertainValue | None:
        """What is believed of a feature; None when it was never found here."""
        wanted = named(full_name(thing or self._thing, feature, self._angle))
        for standing in self._standings:
            parts = named(standing.feature)
            here = parts.thing in ("", wanted.thing) or not self._thing
            if here and standing.believed and (parts.feature, parts.angle) == (wanted.feature, wanted.angle):
                if standing.stale:
                    self.stale.append(standing.feature)
                return standing.x
        return None

    def value(self, feature: str, thing: str = "") -> UncertainValue:
        """What is believed of a feature, with its own name in the budget; else what is assumed."""
        found = self.find(feature, thing)
        if found is None:
            self.assume(feature, feature, thing)
            return prior(feature)
        return named_sources((found,), TYPE_B[feature].label)[0]

    def assume(self, feature: str, name: str, thing: str = "") -> float:
        """Note that a feature is assumed; the size that is assumed for it."""
        self.assumed.append(full_name(thing or self._thing, feature, self._angle))
        return TYPE_B[name].u


def named_sources(values: Sequence[UncertainValue], label: str) -> tuple[UncertainValue, ...]:
    """One or two values with their own sources drawn together under one label, so that a budget names the feature.

    Variances, covariance and degrees of freedom stay as they are; an instrument's limit of error stays itself,
    because the same instrument may have measured something else in the job.
    """
    own = [UncertainValue(x.value, {s: c for s, c in x.parts.items() if not s.key.startswith(LIMIT)}) for x in values]
    kept = [{s: c for s, c in x.parts.items() if s.key.startswith(LIMIT)} for x in values]
    first = _source(f"{label}:1", label, own[0].u, own[0].dof)
    named_values = [UncertainValue(values[0].value, {first: 1.0} | kept[0])]
    if len(values) > 1:
        share = covariance(own[0], own[1]) / own[0].u ** 2 if own[0].u > 0.0 else 0.0
        left = math.sqrt(max(0.0, own[1].u ** 2 - (share * own[0].u) ** 2))
        second = _source(f"{label}:2", label, left, own[1].dof)
        named_values.append(UncertainValue(values[1].value, {first: share, second: 1.0} | kept[1]))
    return tuple(named_values)


def _source(key: str, label: str, u: float, dof: float) -> ErrorSource:
    return ErrorSource(f"holds:{key}", label, u, dof, pool=f"holds:{label}")
