"""What measured parts teach of the stop: copies cut at one setting speak once of its scale, and show how it repeats."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import median
from typing import TYPE_CHECKING

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.instrument import DEFAULTS
from trued.measure.sd_interval import sd_uncertainty
from trued.procedure import FeatureResult, Reading, RunInput
from trued.procedure.shared.stop import stop_now
from trued.standing.default_uncertainty import TYPE_B
from trued.standing.stop_history import EACH as REPEAT
from trued.standing.stop_history import OFFSET, SLOPE
from trued.standing.stop_model import Cuts

if TYPE_CHECKING:
    from trued.store.rows import StoredRun

SET_TO = "set:"
MOST_COPIES = 20  # of one setting that count: more say hardly more, and the check takes no more
MIS_CUT, LOTS = "mis-cut:", "lots:"
"""What is asked about a measured part, and about parts of one setting that lie in two lots; their names follow."""
WRONG, RIGHT, MOVED = "wrong", "right", "moved"
TAUGHT = (OFFSET, SLOPE, REPEAT)
"""The features that measured parts find."""


def taught(taken: RunInput) -> tuple[FeatureResult, ...]:
    """The findings of parts typed as readings of the stop's scale, `measured@SET=SIZE`."""
    settings = [taken.of("measured", station) for station in taken.stations("measured")]
    return (*taken.check.evaluate(taken), *_repeat(_fair(taken, settings)))


def _fair(taken: RunInput, settings: Sequence[Sequence[Reading]]) -> list[tuple[Reading, ...]]:
    """The copies that are fair readings of their setting: a mis-cut one says nothing of how a stop repeats."""
    cuts = taken.check.parts(taken) if taken.check.parts is not None else ()
    apart = [replace(one, off_mm=tuple(off - median(one.off_mm) for off in one.off_mm)) for one in cuts]
    judged = stop_now(taken, apart).judged
    return [
        tuple(reading for n, reading in enumerate(copies) if n not in one.slips)
        for one, copies in zip(judged, settings, strict=True)
        if not one.moved
    ]


def _repeat(settings: Sequence[Sequence[Reading]]) -> tuple[FeatureResult, ...]:
    """Scatter within the settings; none where no setting has two parts, or where the readings scatter by more than
    stops usually do: a rule in sixty-fourths shows its own divisions, not the stop."""
    settings = [copies for copies in settings if copies]
    dof = sum(len(copies) - 1 for copies in settings)
    if dof < 1:
        return ()
    used = {reading.instrument or DEFAULTS["caliper"] for copies in settings for reading in copies}
    finest = max(instrument.resolution / math.sqrt(12.0) for instrument in used)
    if max(finest, *(instrument.repeat.s for instrument in used)) > TYPE_B[REPEAT].u:
        return ()
    square = math.fsum((r.value - _average(copies)) ** 2 for copies in settings for r in copies) / dof
    known = EstimatedSd(max(math.sqrt(square), finest), dof)
    return (FeatureResult(REPEAT, "mm", sd_uncertainty("parts:scatter", "few parts", known), spread=known),)


def _average(copies: Sequence[Reading]) -> float:
    return math.fsum(r.value for r in copies) / len(copies)


@dataclass(frozen=True, slots=True)
class SetPart:
    """A measured part with what the stop was set to: as it was typed, and as a reading of the stop's scale."""

    name: str
    set_to: str
    typed: str


def set_parts(stored: StoredRun) -> tuple[SetPart, ...]:
    """The measured parts of a proof that were cut against the stop."""
    parts: list[SetPart] = []
    taken: Counter[str] = Counter()
    for reading in stored.readings:
        set_to = stored.run.facts.get(f"{SET_TO}{reading.name}@{reading.station}")
        if set_to is not None and taken[set_to] < MOST_COPIES:
            taken[set_to] += 1
            part, _, side = reading.name.partition(".")
            instrument = f":{reading.instrument}" if reading.instrument else ""
            typed = f"measured@{set_to}{instrument}={reading.typed}"
            parts.append(SetPart(f"{part}@{reading.station}.{side}", set_to, typed))
    return tuple(parts)


def by_setting(parts: Sequence[SetPart]) -> tuple[tuple[str, ...], ...]:
    """Their names, those of one setting together, in the order in which the check takes the settings."""
    at = dict.fromkeys(part.set_to for part in parts)
    return tuple(tuple(part.name for part in parts if part.set_to == one) for one in at)


def told_by_hand(cuts: Sequence[Cuts], names: Sequence[Sequence[str]], told: Mapping[str, str]) -> tuple[Cuts, ...]:
    """The parts of each setting with what the person has answered about them (`told`: code -> word)."""
    return tuple(_told(one, own, told) for one, own in zip(cuts, names, strict=True))


def _told(cuts: Cuts, names: Sequence[str], told: Mapping[str, str]) -> Cuts:
    wrong = {n for n, name in enumerate(names) if told.get(f"{MIS_CUT}{name}") == WRONG}
    right = {n for n, name in enumerate(names) if told.get(f"{MIS_CUT}{name}") == RIGHT}
    for code, word in told.items():
        far = set(code.removeprefix(LOTS).split(",")) if code.startswith(LOTS) else set()
        if far & set(names):
            wrong |= {n for n, name in enumerate(names) if word == MOVED or (word == WRONG and name in far)}
            right |= {n for n, name in enumerate(names) if word == RIGHT and name in far}
    return replace(cuts, wrong=tuple(sorted(wrong)), right=tuple(sorted(right - wrong)))
