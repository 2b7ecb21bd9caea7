"""The sizes that a job file defines: those measured or decided by name, and those of its parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from trued.errors import Faults
from trued.job.expression.naming import fault_of_name
from trued.job.expression.parser import read_expression
from trued.job.expression.targets import Definition
from trued.job.expression.tree import Side
from trued.toml.table import Table
from trued.units import Unit

HELD_BACK = "measured"
"""What stands for a size that is still to be measured."""


@dataclass(slots=True)
class Definitions:
    """Every size by its key (`t`, `shelf.length`), None where its text is at fault; and what belongs to them.

    instruments: name -> what it was measured with. copies: part -> how many. cut: names of joints' sizes.
    """

    sizes: dict[str, Definition | None] = field(default_factory=dict)
    instruments: dict[str, str] = field(default_factory=dict)
    copies: dict[str, int] = field(default_factory=dict)
    cut: set[str] = field(default_factory=set)

    def add(self, key: str, text: str, place: str, unit: Unit, faults: Faults) -> None:
        """Read one size and keep it under its key; the first of two with one key stays."""
        if key in self.sizes:
            faults.add(place, key, f"{key} is there more than once; keep one of them.")
            return
        self.sizes[key] = None
        with faults.at(place):
            node = None if text == HELD_BACK else read_expression(text, unit)
            self.sizes[key] = Definition(text, node, place)

    @property
    def names(self) -> tuple[str, ...]:
        """The keys of the named sizes, in the order written."""
        return tuple(key for key in self.sizes if "." not in key)


def define(top: Table, unit: Unit, more: Sequence[Table] = ()) -> Definitions:
    """All definitions of a file; `more`: sizes that its assemblies name.

    Texts that cannot be read are noted as faults, and their keys stay known.
    """
    found = Definitions()
    later: list[tuple[str, Table, str]] = []
    for table in (top.table("measured"), top.table("sizes"), *more):
        for name in table.values:
            if isinstance(table.values[name], dict) and not _is_reading(table.values[name]):
                later.append((name, table, name))
            elif _named(table, name):
                found.add(name, _text(found, table, name), table.at(name), unit, table.faults)
    for row in top.rows("part"):
        _part(found, row, unit)
    for part, table, name in later:
        _measured_part(found, part, table.inner(name), unit)
    return found


def _named(table: Table, name: str) -> bool:
    if said := fault_of_name(name):
        table.fault(name, said, read=name)
    return not said


def _is_reading(value: object) -> bool:
    return isinstance(value, dict) and "is" in value


def _text(found: Definitions, table: Table, name: str) -> str:
    """The text of a named size: by itself, or in `{ is = "0.742", instrument = "caliper" }`."""
    if not _is_reading(table.values[name]):
        return table.text(name)
    inner = table.inner(name)
    inner.only(("is", "instrument", "cut"))
    if inner.flag("cut"):
        found.cut.add(name)
    if inner.has("instrument"):
        found.instruments[name] = inner.text("instrument")
    return inner.text("is")


def _part(found: Definitions, row: Table, unit: Unit) -> None:
    id = row.text("id")
    if fault_of_name(id) or id in found.copies:
        return  # told where the part itself is made
    if id in found.sizes:
        row.fault("id", f"{id} is already the name of a size; take another one for the part.", read=id)
    quantity = row.whole("quantity", 1)
    found.copies[id] = quantity or 1
    for side in Side:
        if row.has(side):
            found.add(f"{id}.{side}", row.text(side), row.at(side), unit, row.faults)
        else:
            row.fault(side, f'The {side} is missing; write {side} = "…", or "{HELD_BACK}" while it cannot be known.')
            found.sizes.setdefault(f"{id}.{side}", None)


def _measured_part(found: Definitions, part: str, table: Table, unit: Unit) -> None:
    """`door.length = "26 13/16"` under [measured]: a held-back size of a part that has now been measured."""
    if part not in found.copies:
        table.fault("", 'This is no part, and no reading such as { is = "0.742", instrument = "caliper" }.', read=part)
        return
    table.only(tuple(Side))
    for side in table.values:
        key = f"{part}.{side}"
        held = found.sizes.get(key)
        if held is not None and held.of is None:
            del found.sizes[key]
        found.add(key, table.text(side), table.at(side), unit, table.faults)
