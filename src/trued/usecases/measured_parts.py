"""What measured parts teach of the stop: copies cut at one setting speak once of its scale, and show how it repeats."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trued.form import Found, Reading, Taken
from trued.measure.instrument import DEFAULTS
from trued.measure.scatter import Scatter
from trued.measure.spread import spread
from trued.shop.assumed import PRIORS
from trued.shop.stop_log import EACH as REPEAT
from trued.shop.stop_log import OFFSET, SLOPE

TAUGHT = (OFFSET, SLOPE, REPEAT)
"""The features that measured parts find."""


def taught(taken: Taken) -> tuple[Found, ...]:
    """The findings of parts typed as readings of the stop's scale, `measured@SET=SIZE`."""
    settings = [taken.of("measured", station) for station in taken.stations("measured")]
    return (*taken.check.evaluate(taken), *_repeat(settings))


def _repeat(settings: Sequence[Sequence[Reading]]) -> tuple[Found, ...]:
    """Scatter within the settings; none where no setting has two parts, or where the readings scatter by more than
    stops usually do: a rule in sixty-fourths shows its own divisions, not the stop."""
    dof = sum(len(copies) - 1 for copies in settings)
    used = {reading.instrument or DEFAULTS["caliper"] for copies in settings for reading in copies}
    finest = max(instrument.resolution / math.sqrt(12.0) for instrument in used)
    if dof < 1 or max(finest, *(instrument.repeat.s for instrument in used)) > PRIORS[REPEAT].u:
        return ()
    square = math.fsum((r.value - _average(copies)) ** 2 for copies in settings for r in copies) / dof
    known = Scatter(max(math.sqrt(square), finest), dof)
    return (Found(REPEAT, "mm", spread("parts:scatter", "few parts", known), spread=known),)


def _average(copies: Sequence[Reading]) -> float:
    return math.fsum(r.value for r in copies) / len(copies)
