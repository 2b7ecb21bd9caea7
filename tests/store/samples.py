"""Rows and a shop of an invented workshop, made the same way every time."""

from __future__ import annotations

import os
import subprocess
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

from trued.equipment.fixture import Fixture
from trued.equipment.saw import Blade, Saw, Table
from trued.equipment.shop import Shop
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.instrument import Instrument
from trued.store.book import Book
from trued.store.ids import id_under
from trued.store.opening import open_book
from trued.store.rows import (
    AnswerRow,
    CameRow,
    DeviceRow,
    EventRow,
    JobRow,
    MarkRow,
    MoveRow,
    PlanRow,
    ReadingRow,
    RunRow,
    Size,
    StatedRow,
    StockChangeRow,
    StockRow,
)

START = datetime(2026, 3, 2, 9, 30, tzinfo=UTC)

SHOP = Shop(
    "The bench by the window",
    "in",
    Saw(
        "saw",
        Table(279.4, 577.85, 292.1, 266.7),
        slot_mm=127.0,
        weight_kg=30.0,
        max_cut_mm={90: 72.39, 45: 49.53},
        maker_forbids=("dado-stack",),
    ),
    Blade("thin", plate_mm=1.7018, kerf_mm=2.3876, flange="left"),
    (
        Fixture("sled", "crosscut-sled", {"fence": "far", "keeper": "left", "radius": 457.2}),
        Fixture("wing", "wing", {"side": "keeper", "size_out": 304.8, "size_along": 457.2}),
    ),
    (Instrument("caliper-1", "caliper", 0.0127, 0.0254, EstimatedSd(0.02, 12.0, 4, 1), 203.2, True, "maker"),),
)


def id_of(name: str) -> str:
    """The same id for the same name."""
    return id_under("samples", name)


def minute(n: float) -> datetime:
    """So many minutes after the start."""
    return START + timedelta(minutes=n)


def a_run(name: str, at: float = 0, **other: object) -> RunRow:
    """A five-cut at the sled."""
    given = {"fixture": "sled", "facts": {"fence": "far"}, **other}
    return RunRow(id_of(name), "five-cut", 1, minute(at), minute(at), **given)  # type: ignore[arg-type]


def readings_of(run: RunRow, *typed: str) -> tuple[ReadingRow, ...]:
    """A reading in inches for each text, all called fence_end."""
    return tuple(
        ReadingRow(
            id_under(run.id, f"reading {seq}"),
            run.id,
            seq,
            "fence_end",
            text,
            run.taken,
            run.taken,
            exact_mm=(127 * int(text), 5),
            instrument="caliper-1",
        )
        for seq, text in enumerate(typed)
    )


def a_move(name: str, at: float = 0, **other: object) -> MoveRow:
    """The fence opened a little."""
    given = {"typed": "0.0054in", "amount": 0.0003, "unit": "rad", "direction": "open", **other}
    return MoveRow(id_of(name), "sled.fence-angle@0", minute(at), **given)  # type: ignore[arg-type]


def an_event(name: str, at: float = 0, kind: str = "saw-carried", **other: object) -> EventRow:
    """Something that happened."""
    return EventRow(id_of(name), kind, minute(at), **other)  # type: ignore[arg-type]


def an_answer(name: str, at: float = 0, about: str = "", **other: object) -> AnswerRow:
    """What was answered about the row of that name."""
    given = {"code": "confirm", "word": "yes", **other}
    return AnswerRow(id_of(name), id_of(about or "second"), at=minute(at), **given)  # type: ignore[arg-type]


A_JOB = JobRow(id_of("job"), "rack", 'name = "rack"\n', START)
A_PLAN = PlanRow(id_of("plan"), A_JOB.id, "1", 7, '{"job": "rack"}', minute(1))
STATED = (
    StatedRow(id_of("stated 1"), A_PLAN.id, "shelf-in-dados", 0.97, minute(1)),
    StatedRow(id_of("stated 2"), A_PLAN.id, "whole job", 0.8, minute(1)),
)
MARKS = tuple(
    MarkRow(id_of(f"mark {ticket} {what}"), A_PLAN.id, ticket, what, minute(at))
    for at, (ticket, what) in enumerate((("T1", "done"), ("T2", "done"), ("T1", "undone"), ("T3", "done")))
)
SKIPPED = MarkRow(id_of("mark T4"), A_PLAN.id, "T4", "skipped", minute(4), reason="no board left")
CUT_WRONG = MarkRow(id_of("mark T5"), A_PLAN.id, "T5", "wrong", minute(5), size_mm=339.09)
PROOF = RunRow(id_of("proof"), "proof", 1, minute(50), minute(50), facts={"plan": A_PLAN.id})
CAME = (CameRow(id_of("came 1"), STATED[0].id, PROOF.id, True, minute(50)),)
A_STOCK = StockRow(
    id_of("stock"),
    "pine",
    Size("72", (9144, 5)),
    Size("7 1/4", (3683, 20)),
    Size("0.742", (47117, 2500)),
    "bought",
)
A_CHANGE = StockChangeRow(id_of("change"), A_STOCK.id, "bought", 3, START)
A_DEVICE = DeviceRow(id_of("phone"), "phone", "writer", "0" * 64)


def apart(code: str, *words: str) -> subprocess.Popen[str]:
    """The code in a process of its own, which finds what this one finds."""
    found = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    command = [sys.executable, "-W", "error", "-c", code, *words]
    return subprocess.Popen(command, env=found, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def fill(book: Book) -> None:
    """One row or more in every table that a person fills."""
    book.save_shop(SHOP)
    book.add_device(A_DEVICE)
    first = a_run("first", device=A_DEVICE.id)
    book.add_run(first, readings_of(first, "10", "11"))
    second = a_run("second", 30, supersedes=first.id)
    book.add_run(second, readings_of(second, "10", "12"))
    book.add_move(a_move("opened", 10))
    book.add_event(an_event("carried", 20))
    book.add_answer(an_answer("confirmed", 40))
    book.add_job(A_JOB)
    book.add_plan(A_PLAN, STATED)
    book.add_marks((*MARKS, SKIPPED, CUT_WRONG))
    book.add_proof(PROOF, readings_of(PROOF, "13"), CAME)
    book.add_stock(A_STOCK, A_CHANGE)


def new_book(folder: Path) -> Book:
    """An empty book."""
    return open_book(folder / "shop.trued", create=True)
