"""Reading one [[fit]] of a job file."""

from __future__ import annotations

from fractions import Fraction

from trued.job.expression.tree import Node
from trued.job.file.fields import Fields
from trued.job.file.read_kind import READY, build
from trued.job.file.sizing import Sizing
from trued.job.geometry.fit_geometry import Geometry
from trued.job.geometry.fit_spec import KINDS, FitSpec
from trued.toml.table import Table

_COMMON = ("id", "kind", "at_least", "at_most")
_SUM = ("of", "is")


def read_fit(row: Table, sizing: Sizing) -> FitSpec | None:
    """The fit; None where a fault was noted. `of` and `is` are the same word: a sum in place of a kind's own fields."""
    before = len(row.faults)
    id, kind = row.text("id"), row.word("kind", KINDS, KINDS[0])
    built = _built(row, sizing, kind)
    low, high = (_limit(row, sizing, name) for name in ("at_least", "at_most"))
    if len(row.faults) > before or built is None:
        return None
    shape, node, text = built
    with row.faults.at(row.place):
        return FitSpec(id, node, text, low, high, kind, shape)
    return None


def _built(row: Table, sizing: Sizing, kind: str) -> tuple[Geometry | None, Node, str] | None:
    """A kind by its own fields; else the sum that the person wrote."""
    own = READY[kind][0] if kind in READY else ()
    no_sum = row.has("kind") and kind in READY and not any(row.has(key) for key in _SUM)
    if no_sum or any(row.has(key) for key in own):
        row.only((*_COMMON, *own))
        made = build(kind, Fields(row, sizing))
        return None if made is None else (made[0], made[1], "")
    row.only((*_COMMON, *_SUM, *own))
    key = "of" if row.has("of") else "is"
    if row.has("of") == row.has("is"):
        row.fault("of", 'Say what the fit is, once: of = "bay - rack.length".')
    text = row.text(key)
    node = sizing.expression(row, key, text) if text or isinstance(row.values.get(key), str) else None
    return None if node is None else (None, node, text)


def _limit(row: Table, sizing: Sizing, key: str) -> Fraction | None:
    return sizing.value(row, key, row.text(key), signed=True) if row.has(key) else None
