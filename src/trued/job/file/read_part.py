"""Reading one [[part]] of a job file."""

from __future__ import annotations

from collections.abc import Mapping

from trued.job.expression.targets import Definition, Targets
from trued.job.expression.tree import Side
from trued.job.file.sizing import Sizing
from trued.job.part import Grain, Part
from trued.job.size import Size
from trued.toml.table import Table

_KEYS = (
    *("id", "quantity", "material", "length", "width", "thickness"),
    *("grain", "tolerance", "alike", "together", "show"),
)


def read_part(row: Table, sizes: Mapping[str, Definition | None], sizing: Sizing) -> Part | None:
    """The part; None where a fault was noted."""
    row.only(_KEYS)
    before = len(row.faults)
    id = row.text("id")
    length, width, thickness = (_target(row, side, sizes.get(f"{id}.{side}"), sizing.targets) for side in Side)
    part = None
    with row.faults.at(row.place):
        part = Part(
            id,
            length,
            width,
            thickness,
            quantity=row.whole("quantity", 1) or 0,
            material=row.text("material"),
            grain=Grain(row.word("grain", tuple(Grain), Grain.LENGTH)),
            tolerance=sizing.size(row, "tolerance"),
            alike=sizing.size(row, "alike"),
            together=row.text("together"),
            show=row.flag("show"),
        )
    return part if len(row.faults) == before else None


def _target(row: Table, side: Side, given: Definition | None, targets: Targets) -> Size | None:
    """What a size of the part comes to; None while it is held back, or where its text was at fault."""
    value = targets.values.get(f"{row.text('id')}.{side}")
    if given is None or given.of is None or value is None:
        return None
    with row.faults.at(row.at(side)):
        return Size(value, given.text, given.of)
    return None
