"""Sizes written anywhere in a job file, reckoned with the targets of the job."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from trued.errors import Faults
from trued.job.expression.parser import read_expression
from trued.job.expression.targets import Targets
from trued.job.expression.tree import Node
from trued.job.size import Size
from trued.toml.table import Table
from trued.units import Unit


@dataclass(frozen=True, slots=True)
class Sizing:
    """Reads the sizes of a table: the job's unit, and what its names come to."""

    unit: Unit
    targets: Targets

    def size(self, table: Table, key: str, *, needed: bool = False) -> Size | None:
        """A size above 0; None where it is missing, waits for a measured one, or was refused."""
        if not table.has(key):
            if needed:
                table.fault(key, f'This is missing; write {key} = "…".')
            return None
        text = table.text(key)
        if not text and not isinstance(table.values[key], str):
            return None
        found = self._reckoned(table, key, text)
        if found is None:
            return None
        node, value = found
        with table.faults.at(table.at(key)):
            return Size(value, text, node)
        return None

    def value(self, table: Table, key: str, text: str, *, signed: bool = False) -> Fraction | None:
        """What one text at a key comes to, of either sign; None as in `size`."""
        found = self._reckoned(table, key, text, signed=signed)
        return found[1] if found else None

    def pair(self, table: Table, key: str, example: str) -> tuple[Fraction, Fraction] | None:
        """Two sizes of 0 or more in a list."""
        texts = table.texts(key, 2, example)
        if texts is None:
            return None
        first, second = (self.value(table, key, text) for text in texts)
        return (first, second) if first is not None and second is not None else None

    def expression(self, table: Table, key: str, text: str) -> Node | None:
        """The tree of an expression that can be reckoned, now or later; None where a fault was noted."""
        own = Faults()
        with own.at():
            node = read_expression(text, self.unit)
            self.targets.of(node, text, own)  # names that do not exist, a division by 0, a number out of all measure
            if not len(own):
                return node
        _pass_on(own, table, key)
        return None

    def _reckoned(self, table: Table, key: str, text: str, *, signed: bool = False) -> tuple[Node, Fraction] | None:
        own = Faults()
        with own.at():
            node = read_expression(text, self.unit, signed=signed)
            value = self.targets.of(node, text, own)
            if value is not None:
                return node, value
            if not len(own) and self.targets.waits(node):
                own.add("", text, "This rests on a size that is still to be measured; only parts and fits can wait.")
        _pass_on(own, table, key)
        return None


def _pass_on(own: Faults, table: Table, key: str) -> None:
    with table.faults.at(table.at(key)):
        own.raise_if_any()
