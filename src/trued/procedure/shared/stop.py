"""Parts cut against the stop, as its checks take them: one model of offset, slope and scatter behind both.

What is said of one run alone rests on the parts of that run and on what is known of how this stop is set anew.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime

from trued.advice.next_action_stop import moving_pays
from trued.measure.decision import ToleranceLimits
from trued.measure.estimate import UncertainValue
from trued.measure.instrument import DEFAULTS
from trued.procedure.declaration import Flag, Move, Reading, RunInput, Severity
from trued.procedure.quantities import MIL, inches, plain, size
from trued.procedure.shared.cursor import cursor_way
from trued.standing.declared import Actuator, AddedUncertainty, Feature, per_quarter
from trued.standing.stop_history import OFFSET, Judged, StopLog, StopNow
from trued.standing.stop_model import Cuts, Presumed

STOP_OFFSET = Feature(
    OFFSET,
    "mm",
    "stop scale offset",
    orders=("move the cursor so it reads more", "move the cursor so it reads less"),
    limits=ToleranceLimits.within(inches(0.005)),  # common practice, work by the rule
    directions=("shorter", "longer"),
    sides=("parts long", "parts short"),
    actuator=Actuator(2 * MIL, 2 * MIL),
    drift=per_quarter(2.0 * MIL),
    doubts=(
        AddedUncertainty("blade-same-kerf", 6 * MIL, grows="secant"),
        AddedUncertainty("blade-thinner", 26 * MIL, grows="secant"),
        AddedUncertainty("blade-thicker", 26 * MIL, grows="secant"),
        AddedUncertainty("blade-realigned", 15 * MIL, grows="secant"),
        AddedUncertainty("facing-renewed", 1 / 16 * 25.4, "turned", "tangent"),
        AddedUncertainty("bar-adjusted", 8 * MIL),
        AddedUncertainty("screw-touched", 20 * MIL, "turned"),
        AddedUncertainty("detent-loosened", 20 * MIL, "turned"),
        AddedUncertainty("scale-moved", 40 * MIL),
    ),
    angles="swing",
    turn=20,
)
"""Found by parts at several readings, which are ordered for it, and by parts at one: two checks that must not import
each other."""

_ANGLE, _ONCE = "0", datetime(2000, 1, 1, tzinfo=UTC)  # one run has one angle and one time


def cuts_of(at_mm: float, readings: Sequence[Reading]) -> Cuts:
    """The parts of one setting; they were read with one instrument."""
    instrument = readings[0].instrument or DEFAULTS["caliper"]
    own, limit = instrument.sources("", instrument.kind, 0.0, instrument.repeat.dof)
    del own
    finest = max(instrument.repeat.s, instrument.resolution / math.sqrt(12.0))
    return Cuts(at_mm, tuple(r.value - at_mm for r in readings), finest, limit)


def stop_now(taken: RunInput, settings: Sequence[Cuts]) -> StopNow:
    """What these parts alone say, with what is known of how the stop is set anew."""
    return StopLog().with_parts(_ONCE, _ANGLE, "", settings).now(_ONCE, presumed(taken))


def presumed(taken: RunInput) -> Presumed:
    """What is known before these parts: how this stop is set anew, where the book has seen it."""
    return Presumed() if taken.scatter is None else Presumed(setting=taken.scatter)


def scale_of(taken: RunInput, settings: Sequence[Cuts]) -> tuple[UncertainValue, UncertainValue]:
    """Offset and slope as this run shows them, every part taken as it was typed: `mis_cut` stands beside it."""
    return _as_typed(taken, settings).scales[_ANGLE]


def _as_typed(taken: RunInput, settings: Sequence[Cuts]) -> StopNow:
    return stop_now(taken, [cuts.all_right for cuts in settings])


def cursor_move(
    taken: RunInput, offset: UncertainValue, at_mm: float, settings: Sequence[Cuts], limits: ToleranceLimits | None
) -> Move | None:
    """Cursor or scale brought to what parts really are; None where that would likelier than not leave it out."""
    now, unit, long = _as_typed(taken, settings), taken.unit, offset.value > 0.0
    if not moving_pays(now, _ANGLE, limits):
        return None
    by, way = size(offset.value, unit), cursor_way(taken, long=long)
    text = (
        f"Keep the stop at {plain(at_mm, taken)} and move the cursor until it reads "
        f"{plain(at_mm + offset.value, taken)}. Parts are {by} {'long' if long else 'short'} at any length.{way} Or "
        f"leave it and set {by} {'less' if long else 'more'} than you want. Do one, not both."
    )
    return Move(OFFSET, text, "cursor", "shorter" if long else "longer", abs(offset.value))


def mis_cut(taken: RunInput, settings: Sequence[Cuts], names: Sequence[Sequence[str]]) -> Flag | None:
    """A part that is likelier cut or read wrong than the scale is so far off; `names` of each setting's parts."""
    judged = stop_now(taken, settings).judged
    if any(one.moved for one in judged):
        text = "These parts lie in two lots: did the stop move between them? Set it, lock it, cut two again."
        return Flag("setting-moved", Severity.DOUBT, text)
    slips = list(_slips(judged, names))
    parts = sum(len(cuts.off_mm) for cuts in settings)
    if slips:
        text = f"{', '.join(slips)}: likelier cut or read wrong than the scale so far off. It does not count."
        if len(slips) < parts:
            return Flag("mis-cut", Severity.NOTE, text)
        return Flag("mis-cut", Severity.DOUBT, f"{text} Cut another at the same setting.")
    unsure = [own[n] for one, own in zip(judged, names, strict=True) for n in one.again]
    text = f"{', '.join(unsure)}: cut a second part at that setting before you believe it."
    return Flag("second-part", Severity.NOTE, text) if unsure else None


def _slips(judged: Sequence[Judged], names: Sequence[Sequence[str]]) -> Iterator[str]:
    for one, own in zip(judged, names, strict=True):
        yield from (own[n] for n in one.slips)
