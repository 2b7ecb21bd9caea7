"""In what order rows came in, where the times that were told do not say what came first."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from datetime import datetime

from sqlalchemy import Connection, func, select

from trued.store import tables
from trued.store.rows import EventRow, MoveRow, RunRow

_TABLES = {RunRow: tables.run, MoveRow: tables.move, EventRow: tables.event}


def of_one_moment(connection: Connection, rows: Sequence[RunRow | MoveRow | EventRow]) -> Mapping[str, int]:
    """The arrival, by id, of rows that say the same moment: that of the first of its chain, for a correction comes
    later than what it corrects. Nothing of rows from before the kinds of row were counted together: there it tells
    nothing."""
    at: dict[datetime, list[RunRow | MoveRow | EventRow]] = defaultdict(list)
    for row in rows:
        at[row.taken if isinstance(row, RunRow) else row.at].append(row)
    alike = [row for same in at.values() if len(same) > 1 for row in same]
    if not alike:
        return {}
    apart = until_version_2(connection)
    found: dict[str, int] = {}
    for kind, table in _TABLES.items():
        ids = [row.id for row in alike if isinstance(row, kind)]
        for start in range(0, len(ids), _AT_ONCE):
            first, wanted = table.alias("first"), table.c.id.in_(ids[start : start + _AT_ONCE])
            asked = select(table.c.id, first.c.arrived).join(first, first.c.id == table.c.chain)
            asked = asked.where(wanted, first.c.arrived > apart)
            found |= {row.id: row.arrived for row in connection.execute(asked)}
    return found


def until_version_2(connection: Connection) -> int:
    """The last arrival of the book while it was of version 1; 0 where it never was."""
    last: int = connection.execute(select(tables.book.c.counted_apart)).scalar_one()
    return last


def came_to(connection: Connection, until: datetime) -> tuple[object, ...]:
    """What changes with each row that is added, corrected or taken back, and from book to book: the last arrival and
    the last id of every kind of row, and how many lie after `until`."""
    last = [func.max(table.c.arrived) for table in (*_TIMES, tables.reading)] + [func.max(t.c.id) for t in _TIMES]
    later = [select(func.count()).where(time > until).scalar_subquery() for time in _TIMES.values()]
    return tuple(connection.execute(select(*(select(one).scalar_subquery() for one in last), *later)).one())


_TIMES = {
    tables.run: tables.run.c.taken,
    tables.move: tables.move.c.at,
    tables.event: tables.event.c.at,
    tables.answer: tables.answer.c.at,
}
_AT_ONCE = 500  # a statement takes so many ids at the most
