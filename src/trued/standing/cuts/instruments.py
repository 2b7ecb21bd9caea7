"""A shop's instruments with the repeat that it has found of them itself, in place of the one that was assumed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.instrument import DEFAULTS, Instrument
from trued.standing.feature import named
from trued.standing.feature_status import FeatureStatus

REPEAT = "caliper-repeat"
LEAST_DOF = 3.0  # below it the assumed repeat says more than what was found, common practice


def with_own_repeat(instruments: Sequence[Instrument], standings: Iterable[FeatureStatus]) -> tuple[Instrument, ...]:
    """The instruments, each with the repeat that the check `caliper` has found of it here.

    What was found takes the place of what was assumed, as well known as it was found: as many degrees of freedom as
    belong to its uncertainty, u = s / sqrt(2 dof). A stale standing changes nothing, nor does one from too few
    readings. Where the shop has described no instrument of a kind, but found its repeat, the assumed one gets it.
    """
    found = dict(_found(standings))
    own = tuple(_with(instrument, found) for instrument in instruments)
    kinds = {instrument.kind for instrument in instruments}
    assumed = (kind for kind in DEFAULTS if kind in found and kind not in kinds)
    # An assumed instrument ends nowhere that is known; its copy would otherwise refuse what the assumed one reads.
    return own + tuple(replace(_with(DEFAULTS[kind], found), range_mm=None) for kind in assumed)


def _found(standings: Iterable[FeatureStatus]) -> Iterable[tuple[str, EstimatedSd]]:
    for standing in standings:
        parts = named(standing.feature)
        if (
            parts.feature != REPEAT
            or standing.stale
            or not standing.believed
            or standing.x.u <= 0.0
            or standing.x.value <= 0.0
        ):
            continue
        dof = (standing.x.value / standing.x.u) ** 2 / 2.0
        if dof >= LEAST_DOF * (1.0 - 1e-9):
            yield parts.thing, EstimatedSd(standing.x.value, dof, seen=math.floor(dof + 0.5))


def _with(instrument: Instrument, found: Mapping[str, EstimatedSd]) -> Instrument:
    return replace(instrument, repeat=found.get(instrument.id, instrument.repeat))
