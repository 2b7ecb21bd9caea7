"""Which instrument a size was measured with, and what its reading is worth."""

from __future__ import annotations

from collections.abc import Sequence

from trued.errors import InputRefused
from trued.measure.instrument import DEFAULTS, Instrument
from trued.shop.nearest import nearest


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
    """An instrument of the person's own cannot read beyond its end; of an assumed one the end is not known."""
    if instrument.range_mm is None or instrument is DEFAULTS.get(instrument.kind):
        return
    if abs(mm) > instrument.range_mm:
        raise InputRefused.of(
            where,
            read,
            f"{instrument.id} reads to {instrument.range_mm:.0f} mm ({instrument.range_mm / 25.4:.3g} in). Measure the "
            "difference to a mate or to a stick of known length instead, or name what it was read with, as in :rule.",
        )
