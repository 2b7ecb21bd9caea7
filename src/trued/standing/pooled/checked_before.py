"""What was checked before as the start of how a check repeats: the bar play, and the caliper, for the five cuts.

Each cut may stand anywhere within the swing that the bar's play lets it have, so that its angle is evenly spread over
that swing: a standard deviation of swing / sqrt(12) (GUM 4.3.7). A run is the mean of four such cuts. How evenly a hand
uses the play is known to some 30 % (common practice), the swing as well as it was read.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.standing.feature import bare_name
from trued.standing.history.history import Result
from trued.standing.pooled.pooled_feature import PooledFeature

ASSUMED, BAR_PLAY, SEEN = "assumed", "bar-play", "seen"
"""Where what is known of a check's repeat comes from: other shops, bar play and caliper, or its own runs here."""
SWING, CALIPER = "bar-swing", "caliper-repeat"
CUTS: Mapping[str, int] = {"five-cut": 4}
"""Checks whose run is the mean of so many cuts, each of which swings anew."""
EVENLY = 0.3  # standard deviation of the logarithm; common practice
_REPEAT = "repeat:"


def source_of(scatter: EstimatedSd | None) -> str:
    """Where what is known of a check's scatter between runs comes from."""
    if scatter is None or not scatter.shown:
        return ASSUMED
    return SEEN if scatter.pairs > 0 else BAR_PLAY


States = Mapping[str, object]


def start_by_swing(check: str, thing: str, features: States) -> EstimatedSd | None:
    """How a check repeats with that fixture, from the swing that its bar was found to have; None where it was not."""
    cuts, state = CUTS.get(check), features.get(f"{thing}.{SWING}")
    if cuts is None or not isinstance(state, PooledFeature):
        return None
    swing, u = state.last.x.value, state.last.x.u
    size = max(swing, u)  # no play that could be read says that it is no more than reading shows
    return known_to(size / math.sqrt(12.0 * cuts), math.hypot(EVENLY, u / size)) if size > 0.0 else None


def known_to(s: float, doubt: float) -> EstimatedSd:
    """A scatter whose logarithm is known to `doubt` (standard deviation): the scaled inverse chi-square belief with the
    same mean and variance of the logarithm.

    With a = dof / 2 that of the variance has the variance trigamma(a), and lies by ln(a) - digamma(a) above its scale
    (Abramowitz and Stegun 6.3.18 and 6.4.12 for both).
    """
    a = 0.5 + 0.25 / doubt**2
    above = 1.0 / (2.0 * a) + 1.0 / (12.0 * a * a) - 1.0 / (120.0 * a**4)
    return EstimatedSd(s * math.exp(-0.5 * above), 2.0 * a)


def is_swing(row: Result) -> bool:
    """Whether a finding is one that another check's repeat starts from."""
    return bare_name(row.feature) == SWING


def checked_before(check: str, thing: str, last: Result, features: States) -> bool:
    """Whether the bar play, and the caliper repeatability that read `last`, were found with nothing since."""
    if check not in CUTS:
        return False
    wanted = f"{thing}.{SWING}", f"{_read_by(last)}.{CALIPER}"
    return all(isinstance(state := features.get(name), PooledFeature) and state.fresh for name in wanted)


def _read_by(last: Result) -> str:
    """The instrument whose repeat matters most to a finding."""
    read = [(abs(c) * source.u, source.pool) for source, c in last.x.parts.items() if source.pool.startswith(_REPEAT)]
    return max(read, default=(0.0, ""))[1].removeprefix(_REPEAT)
