"""Reading one [[stock]] of a job file."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from trued.job.file.sizing import Sizing
from trued.job.stock import Defect, StockGrain, StockLine
from trued.toml.table import Table

_KEYS = (
    *("id", "material", "length", "width", "thickness", "have", "price"),
    *("trim_ends", "trim_edges", "grain", "defects", "offcut"),
)
_NO_TRIM = (Fraction(0), Fraction(0))


def read_stock(row: Table, sizing: Sizing) -> StockLine | None:
    """The line of stock; None where a fault was noted."""
    row.only(_KEYS)
    before = len(row.faults)
    length, width, thickness = (sizing.size(row, key, needed=True) for key in ("length", "width", "thickness"))
    have, price, offcut = row.whole("have", None), row.number("price"), row.flag("offcut")
    ends, edges = (sizing.pair(row, key, '["1/2", "1/2"]') or _NO_TRIM for key in ("trim_ends", "trim_edges"))
    grain = StockGrain(row.word("grain", tuple(StockGrain), StockGrain.LENGTH))
    id, material, defects = row.text("id"), row.text("material"), tuple(_defects(row, sizing))
    if len(row.faults) > before or length is None or width is None or thickness is None:
        return None
    with row.faults.at(row.place):
        return StockLine(id, length, width, thickness, material, have, price, ends, edges, grain, defects, offcut)
    return None


def _defects(row: Table, sizing: Sizing) -> Iterator[Defect]:
    for mark in row.marks("defects"):
        mark.only(("at", "size"))
        at, size = sizing.pair(mark, "at", '["41", "0"]'), sizing.pair(mark, "size", '["1 1/2", "2"]')
        if at and size and min(at) >= 0 and min(size) > 0:
            yield Defect(*at, *size)
        elif at is None or size is None:
            for key in ("at", "size"):
                if not mark.has(key):
                    mark.fault(key, 'A defect needs a place and a size: { at = ["41", "0"], size = ["1 1/2", "2"] }.')
        else:
            mark.fault("", "A defect lies at 0 or beyond, and both its sizes are above 0.")
