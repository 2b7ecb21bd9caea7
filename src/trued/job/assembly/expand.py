"""Taking every [[assembly]] of a job file apart into sizes, parts and fits, before anything else is read."""

from __future__ import annotations

from dataclasses import dataclass

from trued.job.assembly.kinds import KINDS
from trued.job.assembly.made import Assembled, Making
from trued.job.expression.naming import fault_of_name
from trued.toml.table import Table


@dataclass(frozen=True, slots=True)
class Expanded:
    """The file with the parts and fits of its assemblies, the sizes that they name, and what was made of each."""

    top: Table
    sizes: tuple[Table, ...]
    assemblies: tuple[Assembled, ...]


def expand(top: Table) -> Expanded:
    """The same file without assemblies; faults are noted at their place."""
    makings = [making for row in top.rows("assembly") if (making := _taken_apart(row)) is not None]
    if not makings:
        return Expanded(top, (), ())
    values = dict(top.values)
    for key, rows in (("part", [m.parts for m in makings]), ("fit", [m.fits for m in makings])):
        own = values.get(key, [])
        if isinstance(own, list):
            values[key] = [*own, *(row for several in rows for row in several)]
    sizes = tuple(Table(m.sizes, m.row.place, top.faults) for m in makings)
    told = tuple(Assembled(m.id, m.row.text("kind"), tuple(m.said), tuple(m.angled)) for m in makings)
    return Expanded(Table(values, top.place, top.faults), sizes, told)


def _taken_apart(row: Table) -> Making | None:
    before, id = len(row.faults), row.text("id")
    if said := fault_of_name(id):
        row.fault("id", said, read=id)
    kind = row.word("kind", tuple(KINDS), "")
    if kind not in KINDS or len(row.faults) > before:
        return None
    keys, take_apart = KINDS[kind]
    row.only(keys)
    making = Making(row, id)
    take_apart(making)
    return making if len(row.faults) == before else None
