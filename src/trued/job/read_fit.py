"""Reading one [[fit]] of a job file."""

from __future__ import annotations

from fractions import Fraction

from trued.job.fit_spec import KINDS, FitSpec
from trued.job.sizing import Sizing
from trued.job.tables import Table

_KEYS = ("id", "kind", "of", "is", "at_least", "at_most")


def read_fit(row: Table, sizing: Sizing) -> FitSpec | None:
    """The fit; None where a fault was noted. `of` and `is` are the same word."""
    row.only(_KEYS)
    before = len(row.faults)
    key = "of" if row.has("of") else "is"
    if row.has("of") == row.has("is"):
        row.fault("of", 'Say what the fit is, once: of = "bay - rack.length".')
    text = row.text(key)
    node = sizing.expression(row, key, text) if text or isinstance(row.values.get(key), str) else None
    low, high = (_limit(row, sizing, name) for name in ("at_least", "at_most"))
    id, kind = row.text("id"), row.word("kind", KINDS, KINDS[0])
    if len(row.faults) > before or node is None:
        return None
    with row.faults.at(row.place):
        return FitSpec(id, node, text, low, high, kind)
    return None


def _limit(row: Table, sizing: Sizing, key: str) -> Fraction | None:
    return sizing.value(row, key, row.text(key), signed=True) if row.has(key) else None
