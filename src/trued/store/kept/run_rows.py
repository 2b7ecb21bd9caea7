"""From what a check took to rows, and back to what was typed."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from trued.procedure import Reading, RunInput
from trued.store.ids import id_under
from trued.store.rows import ReadingRow, RunRow


def rows_of(
    taken: RunInput,
    run: str,
    at: datetime,
    *,
    started: datetime | None = None,
    fixture: str = "",
    facts: Mapping[str, str] | None = None,
    device: str | None = None,
    supersedes: str | None = None,
) -> tuple[RunRow, tuple[ReadingRow, ...]]:
    """The rows of one run under the id `run`; `facts` as typed. The same run gives the same rows every time.

    Back again: `take(check, stored.as_typed, stored.run.facts, unit=stored.run.unit, ...)`.
    """
    check = taken.check
    row = RunRow(
        id=run,
        check=check.id,
        check_version=check.version,
        started=started or at,
        taken=at,
        fixture=fixture,
        unit=taken.unit,
        facts=facts or {},
        device=device,
        supersedes=supersedes,
    )
    return row, tuple(_reading(row, seq, reading) for seq, reading in enumerate(taken.readings))


def _reading(run: RunRow, seq: int, reading: Reading) -> ReadingRow:
    return ReadingRow(
        id=id_under(run.id, f"reading {seq}"),
        run=run.id,
        seq=seq,
        name=reading.name,
        typed=reading.typed,
        taken=run.taken,
        received=run.taken,
        station=reading.station,
        unit=run.unit,
        exact_mm=reading.exact_mm,
        instrument="" if reading.instrument is None else reading.instrument.id,
    )
