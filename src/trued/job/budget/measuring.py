"""Which instrument a size was measured with, and what its reading is worth."""

from __future__ import annotations

from collections.abc import Sequence

from trued.errors import InputRefused
from trued.measure.instrument import DEFAULTS, Instrument
from trued.units.nearest import nearest

BY_REACH = ("caliper", "rule", "tape")


def find_instrument(name: str, own: Sequence[Instrument], where: str) -> Instrument:
    """The person's instrument of that id or kind, else what is assumed for the kind."""
    for instrument in own:
        if name in (instrument.id, instrument.kind):
            return instrument
    if name in DEFAULTS:
        return DEFAULTS[name]
    known = [*(instrument.id for instrument in own), *DEFAULTS]
    raise InputRefused.of(where, name, f"There is no instrument called {name}. {nearest(name, known)}")


def judge_range(instrument: Instrument, mm: float, where: str, read: str) -> None:
    """InputRefused for a size beyond the end of the person's own instrument."""
    if not instrument.reaches(mm):
        other = "Measure the difference to a mate or to a stick of known length instead"
        raise InputRefused.of(where, read, instrument.beyond(mm, read, other))


def that_reaches(mm: float, own: Sequence[Instrument], where: str) -> Instrument:
    """Where none was named: a caliper, or else a rule, or else a tape, the first that reads so far."""
    known = [find_instrument(kind, own, where) for kind in BY_REACH]
    return next((instrument for instrument in known if instrument.reaches(mm)), known[-1])
