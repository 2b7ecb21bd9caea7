"""Jobs, their plans, and what was done about the tickets."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import ColumnElement, Connection, select, update

from trued.errors import InputRefused
from trued.store import tables
from trued.store.kept.append_row import add, columns_of, values_of
from trued.store.rows import JobRow, MarkRow, PlanRow


def add_job(connection: Connection, job: JobRow) -> JobRow:
    """The job as the book has it: the one of the same text that is there already, else this one."""
    known = _read(connection, tables.job.c.sha == job.sha)
    if known:
        return known[0]
    add(connection, tables.job, {**values_of(job), "sha": job.sha})
    return job


def read_jobs(connection: Connection, name: str | None = None) -> tuple[JobRow, ...]:
    """Jobs in the order in which they were made, all or those of one name."""
    return _read(connection, *(() if name is None else (tables.job.c.name == name,)))


def add_plan(connection: Connection, plan: PlanRow) -> bool:
    """Whether it was new."""
    return add(connection, tables.plan, values_of(plan))


def read_plans(connection: Connection, job: str | None = None) -> tuple[PlanRow, ...]:
    """Plans in the order in which they were made, all or those of one job."""
    table = tables.plan
    wanted = () if job is None else (table.c.job == job,)
    asked = select(*columns_of(table, PlanRow)).where(*wanted).order_by(table.c.made, table.c.id)
    return tuple(PlanRow(*row) for row in connection.execute(asked))


def freeze_plan(connection: Connection, plan: str, at: datetime) -> None:
    """Note when cutting began; the first time stays. InputRefused when there is no such plan."""
    table = tables.plan
    connection.execute(update(table).where(table.c.id == plan, table.c.frozen.is_(None)).values(frozen=at))
    if connection.scalar(select(table.c.id).where(table.c.id == plan)) is None:
        raise InputRefused.of("plan", plan, "There is no such plan in the book.")


def add_mark(connection: Connection, mark: MarkRow) -> bool:
    """Whether it was new."""
    return add(connection, tables.mark, values_of(mark))


def read_mark(connection: Connection, id: str) -> MarkRow | None:
    """The mark of that id."""
    asked = select(*columns_of(tables.mark, MarkRow)).where(tables.mark.c.id == id)
    found = connection.execute(asked).first()
    return None if found is None else MarkRow(*found)


def read_marks(connection: Connection, plan: str) -> tuple[MarkRow, ...]:
    """The mark of every ticket of the plan that is not open, in the order in which they came; of each ticket the last
    one counts."""
    table = tables.mark
    asked = select(*columns_of(table, MarkRow)).where(table.c.plan == plan).order_by(table.c.arrived)
    marks: dict[str, MarkRow] = {}
    for mark in (MarkRow(*found) for found in connection.execute(asked)):
        marks.pop(mark.ticket, None)
        if mark.what != "undone":
            marks[mark.ticket] = mark
    return tuple(marks.values())


def _read(connection: Connection, *wanted: ColumnElement[bool]) -> tuple[JobRow, ...]:
    table = tables.job
    asked = select(*columns_of(table, JobRow)).where(*wanted).order_by(table.c.made, table.c.id)
    return tuple(JobRow(*row) for row in connection.execute(asked))
