"""The book of one shop: everything that is kept, through narrow methods. What a method has returned from is on disk."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Self

from sqlalchemy import Connection, select

from trued.equipment.shop import Shop
from trued.errors import Fault, was_kept
from trued.store import tables
from trued.store.file.backing_up import Copied, copy_book, count_rows
from trued.store.file.connecting import WRITES, driver, wait_ahead, waits_ahead
from trued.store.file.refusals import book_refused, refusals
from trued.store.file.verifying import Looked, look_through, structure
from trued.store.kept import arrivals, devices, jobs, runs, shops, standing_rows, stocks
from trued.store.kept import forecasts as record
from trued.store.kept import moves_and_events as happenings
from trued.store.kept import state_cache as states
from trued.store.rows import (
    AnswerRow,
    CameRow,
    DeviceRow,
    EventRow,
    HistoryRows,
    JobRow,
    MarkRow,
    MoveRow,
    PlanRow,
    ReadingRow,
    RunRow,
    StatedRow,
    StateRow,
    StockChangeRow,
    StockHeld,
    StockRow,
    StoredRun,
    Told,
)


class Book:
    """An open book; made by `open_book`, to be used in a `with` block and by one thread.

    An `add_...` says whether the row was new: the same row delivered twice is one row. Another row under an id that is
    taken, and a row that points at nothing, is InputRefused. What the file or disk refuses is BookRefused. Either
    way nothing of that call is kept.
    """

    def __init__(self, path: Path, connection: Connection, *, only_read: str = "") -> None:
        """`only_read`: why nothing can be kept in it now; "" else."""
        self.path = path
        self._connection = connection
        self._only_read = only_read

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    def close(self) -> None:
        """Leave the book; the last one who does tidies up its files."""
        self._connection.close()

    # --- the shop

    def shop(self) -> Shop:
        """The shop as last saved."""
        with self._reading() as connection:
            return shops.read_shop(connection)

    def save_shop(self, shop: Shop) -> None:
        """Keep the shop. Nothing goes: a fixture no longer named is retired, an instrument no longer named stays."""
        with self._writing("the shop") as connection:
            shops.save_shop(connection, shop)

    def made(self) -> datetime:
        """When the book was made."""
        with self._reading() as connection:
            made: datetime = connection.execute(select(tables.book.c.made)).scalar_one()
            return made

    # --- what was measured, turned, and happened

    def add_run(self, run: RunRow, readings: Sequence[ReadingRow] = ()) -> bool:
        """Keep a run with its readings, or what is new of them."""
        with self._writing(f"run {run.id}") as connection:
            return runs.add_run(connection, run, readings)

    def correct_reading(self, reading: ReadingRow) -> bool:
        """Keep a reading in place of the one that it supersedes."""
        with self._writing() as connection:
            return runs.correct_reading(connection, reading)

    def runs(
        self,
        *,
        check: str | None = None,
        fixture: str | None = None,
        until: datetime | None = None,
        since: datetime | None = None,
        corrected: bool = False,
    ) -> tuple[StoredRun, ...]:
        """Runs in the order of (taken, id), corrections in place; with `corrected` also what they put out of force."""
        with self._reading() as connection:
            return runs.read_runs(connection, *runs.run_filters(check, fixture, until, since), corrected=corrected)

    def run(self, id: str) -> StoredRun | None:
        """One run, whether it still stands or not."""
        with self._reading() as connection:
            return next(iter(runs.read_runs(connection, tables.run.c.id == id, corrected=True)), None)

    def add_move(self, move: MoveRow) -> bool:
        """Keep what was turned."""
        with self._writing(f"move {move.id}") as connection:
            return happenings.add_move(connection, move)

    def add_event(self, event: EventRow) -> bool:
        """Keep what happened."""
        with self._writing(f"event {event.id}") as connection:
            return happenings.add_event(connection, event)

    def moves(self, *, feature: str | None = None, until: datetime | None = None) -> tuple[MoveRow, ...]:
        """Moves in the order of (at, id), corrections in place."""
        with self._reading() as connection:
            return happenings.read_moves(connection, feature=feature, until=until)

    def events(self, *, until: datetime | None = None, since: datetime | None = None) -> tuple[EventRow, ...]:
        """Events in the order of (at, id), corrections in place."""
        with self._reading() as connection:
            return happenings.read_events(connection, until=until, since=since)

    def add_answer(self, answer: AnswerRow) -> bool:
        """Keep what was answered."""
        with self._writing(f"answer {answer.id}") as connection:
            return happenings.add_answer(connection, answer)

    def answers(self, *, until: datetime | None = None) -> tuple[AnswerRow, ...]:
        """Answers in the order of (at, id), corrections in place."""
        with self._reading() as connection:
            return happenings.read_answers(connection, until=until)

    def newest(self, most: int) -> tuple[standing_rows.Row, ...]:
        """The runs, moves, events and answers of the latest times that stand, the newest first."""
        with self._reading() as connection:
            return standing_rows.newest(connection, most)

    def under(self, id: str) -> tuple[standing_rows.Row, standing_rows.Row | None] | None:
        """The run, move, event or answer of that id, in force or not, and what stands of it now."""
        with self._reading() as connection:
            return standing_rows.under(connection, id)

    def beginning_with(self, beginning: str) -> tuple[standing_rows.Row, ...]:
        """Those that stand and whose id begins so, the newest first; of each kind two at the most."""
        with self._reading() as connection:
            return standing_rows.beginning_with(connection, beginning)

    def history(
        self,
        *,
        until: datetime | None = None,
        since: datetime | None = None,
        answers_until: datetime | None = None,
    ) -> HistoryRows:
        """All of them as they stood at one and the same moment; with `since` only what is later than that.

        Answers come in whole, for they may be about any row: those until `answers_until`, else until `until`.
        """
        with self._reading() as connection:
            found_runs = runs.read_runs(connection, *runs.run_filters(None, None, until, since))
            moves = happenings.read_moves(connection, until=until, since=since)
            events = happenings.read_events(connection, until=until, since=since)
            return HistoryRows(
                found_runs,
                moves,
                events,
                happenings.read_answers(connection, until=answers_until or until),
                arrivals.of_one_moment(connection, (*(stored.run for stored in found_runs), *moves, *events)),
            )

    def arrivals(self, rows: Sequence[RunRow | MoveRow | EventRow]) -> Mapping[str, int]:
        """In what order those of them came in that say the same moment, by id."""
        with self._reading() as connection:
            return arrivals.of_one_moment(connection, rows)

    def came_to(self, until: datetime) -> tuple[object, ...]:
        """Equal as long as the rows until then are the same: what was worked out from them holds."""
        with self._reading() as connection:
            return arrivals.came_to(connection, until)

    def time_of_run(self, number: int, *, since: datetime | None, until: datetime) -> datetime | None:
        """When the run of that number after `since` was taken, counted from 1; None when there are not so many."""
        with self._reading() as connection:
            return runs.time_of_run(connection, number, *runs.run_filters(None, None, until, since))

    # --- jobs, and the record of what was told

    def add_job(self, job: JobRow) -> JobRow:
        """Keep a job; the one of the same text that was there already is returned in its place."""
        with self._writing(f"job {job.id}") as connection:
            return jobs.add_job(connection, job)

    def jobs(self, *, name: str | None = None) -> tuple[JobRow, ...]:
        """Jobs in the order in which they were made."""
        with self._reading() as connection:
            return jobs.read_jobs(connection, name)

    def add_plan(self, plan: PlanRow, stated: Sequence[StatedRow] = ()) -> bool:
        """Keep a plan together with every chance that it told."""
        with self._writing(f"plan {plan.id}") as connection:
            new = jobs.add_plan(connection, plan)
            record.add_stated(connection, stated)
            return new

    def plans(self, *, job: str | None = None) -> tuple[PlanRow, ...]:
        """Plans in the order in which they were made."""
        with self._reading() as connection:
            return jobs.read_plans(connection, job)

    def freeze_plan(self, plan: str, at: datetime) -> None:
        """Note that cutting has begun; the first time stays."""
        with self._writing() as connection:
            jobs.freeze_plan(connection, plan, at)

    def add_marks(self, marks: Sequence[MarkRow]) -> None:
        """Keep what was done about tickets."""
        with self._writing("the marks") as connection:
            for mark in marks:
                jobs.add_mark(connection, mark)

    def mark(self, id: str) -> MarkRow | None:
        """The mark of that id."""
        with self._reading() as connection:
            return jobs.read_mark(connection, id)

    def marks(self, plan: str) -> tuple[MarkRow, ...]:
        """The mark of each ticket of the plan that is done, skipped or cut wrong, in the order in which they came."""
        with self._reading() as connection:
            return jobs.read_marks(connection, plan)

    def done(self, plan: str) -> tuple[str, ...]:
        """Tickets of the plan that are done, in the order in which they were."""
        return tuple(mark.ticket for mark in self.marks(plan) if mark.what == "done")

    def add_proof(self, run: RunRow, readings: Sequence[ReadingRow], came: Sequence[CameRow]) -> bool:
        """Keep a run that measured parts, together with what came of the chances that were told."""
        with self._writing(f"run {run.id}") as connection:
            new = runs.add_run(connection, run, readings)
            record.add_came(connection, came)
            return new

    def came(self, run: str) -> tuple[CameRow, ...]:
        """What came of stated chances by that run."""
        with self._reading() as connection:
            return record.read_came(connection, run)

    def told(self, *, plan: str | None = None) -> tuple[Told, ...]:
        """Every chance that was told, in the order of (time, id), with what came of it."""
        with self._reading() as connection:
            return record.read_told(connection, plan)

    # --- stock, devices, and what is kept for speed

    def add_stock(self, stock: StockRow, *changes: StockChangeRow) -> bool:
        """Keep a board, sheet or offcut and how many there are of it."""
        with self._writing() as connection:
            new = stocks.add_stock(connection, stock)
            for change in changes:
                stocks.change_stock(connection, change)
            return new

    def change_stock(self, change: StockChangeRow) -> bool:
        """Keep that there is more or less of it."""
        with self._writing() as connection:
            return stocks.change_stock(connection, change)

    def stock(self) -> tuple[StockHeld, ...]:
        """What there is, by material and id."""
        with self._reading() as connection:
            return stocks.read_stock(connection)

    def add_device(self, device: DeviceRow) -> bool:
        """Keep a paired device."""
        with self._writing() as connection:
            return devices.add_device(connection, device)

    def revoke_device(self, id: str, at: datetime) -> None:
        """Take its right to write; the first time stays."""
        with self._writing() as connection:
            devices.revoke_device(connection, id, at)

    def devices(self) -> tuple[DeviceRow, ...]:
        """Every device by name, the revoked ones too."""
        with self._reading() as connection:
            return devices.read_devices(connection)

    def keep_state(self, state: StateRow, *, alone: bool = False) -> None:
        """Keep a standing for speed; it goes as soon as a row comes in that it should have known of.

        `alone`: every other one of its feature goes. Nothing is kept in a copy that is only looked at.
        """
        if not waits_ahead(self._connection):
            return
        with self._writing() as connection:
            (states.keep_alone if alone else states.keep_state)(connection, state)

    def state(self, feature: str, *, until: datetime | None = None) -> StateRow | None:
        """The latest one kept, of those that know of nothing later than `until`."""
        with self._reading() as connection:
            return states.read_state(connection, feature, until)

    # --- the book as a whole

    def backup(self, to: Path | str) -> Copied:
        """Copy the book while it is in use; the copy was opened, found sound and has as many rows."""
        with refusals(self.path):
            return copy_book(driver(self._connection), Path(to))

    def look_through(self) -> Looked:
        """Its structure and every row of it; nothing is changed. A book of the newest version."""
        with self._reading() as connection:
            return look_through(connection)

    def structure(self) -> tuple[Fault, ...]:
        """What is wrong with the file itself; of a book of any version."""
        with self._reading() as connection:
            return structure(connection)

    def rows(self) -> Mapping[str, int]:
        """How many rows each table has."""
        with self._reading() as connection:
            return count_rows(driver(connection))

    @contextmanager
    def _reading(self) -> Iterator[Connection]:
        with self._transaction(writes=False) as connection:
            yield connection

    @contextmanager
    def _writing(self, what: str = "") -> Iterator[Connection]:
        """`what` is kept once this ends well, and is named should anything fail after it."""
        if self._only_read:
            raise book_refused(self.path, self._only_read)
        with self._transaction(writes=True) as connection:
            yield connection
        if what:
            was_kept(what)

    @contextmanager
    def _transaction(self, *, writes: bool) -> Iterator[Connection]:
        connection = self._connection.execution_options(**{WRITES: writes})
        with refusals(self.path):
            if writes:
                wait_ahead(connection)
            with connection.begin():
                yield connection
