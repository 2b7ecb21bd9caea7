"""The inputs of a form as values, and which of them a fault stands beside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from trued.errors import Fault

EMPTY = "Nothing is typed here yet."


@dataclass(frozen=True, slots=True)
class Field:
    """One input. where, row: the reading it is of, and its number among its like."""

    id: str
    name: str
    label: str
    value: str
    hint: str
    keys: str
    where: str
    row: int
    choices: tuple[str, ...] = ()
    optional: bool = False
    faults: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Row:
    """Fields that stand side by side: the place and its reading, or readings that belong together."""

    fields: tuple[Field, ...]


@dataclass(frozen=True, slots=True)
class AskFields:
    """One ask (or those of one row): its words, its fields, and what may be added to it."""

    words: str
    rows: tuple[Row, ...]
    more: str
    optional: bool
    read_with: Field | None


@dataclass(frozen=True, slots=True)
class StepFields:
    """A step with the fields that it serves."""

    number: int
    text: str
    caution: str
    asks: tuple[AskFields, ...]


@dataclass(frozen=True, slots=True)
class Fields:
    """The whole form; `loose` are the faults that no field stands for."""

    steps: tuple[StepFields, ...]
    facts: tuple[Field, ...]
    wished: tuple[Field, ...]
    loose: tuple[Fault, ...]

    @property
    def all(self) -> tuple[Field, ...]:
        """Every input, in the order of the page."""
        rows = [row for step in self.steps for ask in step.asks for row in ask.rows]
        return (*(field for row in rows for field in row.fields), *self.facts, *self.wished)

    @property
    def wrong(self) -> tuple[Field, ...]:
        """Those with a fault."""
        return tuple(field for field in self.all if field.faults)


def with_faults(fields: Fields, faults: Sequence[Fault]) -> Fields:
    """Each fault to its field; what was said of an empty field is said in the page's own words."""
    if not faults:
        return fields
    beside: dict[str, list[str]] = {}
    loose = []
    for fault in faults:
        field = _field_for(fields.all, fault, beside)
        if field is None:
            loose.append(fault)
        else:
            beside.setdefault(field.id, []).append(EMPTY if not field.value else fault.text)
    return _marked(fields, {id: tuple(dict.fromkeys(texts)) for id, texts in beside.items()}, tuple(loose))


def _field_for(fields: Sequence[Field], fault: Fault, taken: dict[str, list[str]]) -> Field | None:
    name, at, place = fault.where.partition("@")
    mine = [f for f in fields if f.where == fault.where] or [f for f in fields if at and f.where == name]
    if at and mine and mine[0].where == name:  # its place is a length that was typed
        rows = {f.row for f in fields if f.where == f"at {name}" and f.value == place}
        mine = [f for f in mine if f.row in rows] or mine
    free = [f for f in mine if f.id not in taken] or mine
    same = [f for f in free if f.value == fault.read.strip()]
    return next(iter(same or free), None)


def _marked(fields: Fields, beside: dict[str, tuple[str, ...]], loose: tuple[Fault, ...]) -> Fields:
    def mark(field: Field) -> Field:
        return replace(field, faults=beside.get(field.id, ()))

    def mark_ask(ask: AskFields) -> AskFields:
        return replace(ask, rows=tuple(Row(tuple(mark(f) for f in row.fields)) for row in ask.rows))

    steps = tuple(replace(step, asks=tuple(mark_ask(ask) for ask in step.asks)) for step in fields.steps)
    facts, wished = (tuple(mark(f) for f in group) for group in (fields.facts, fields.wished))
    return Fields(steps, facts, wished, loose)
