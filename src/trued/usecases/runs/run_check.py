"""Work out one run of a check; with a book, keep it and say what is now known."""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from datetime import datetime
from pathlib import Path

from trued.equipment.fence_swing import Detents
from trued.errors import Fault, InputRefused
from trued.measure.decision import ToleranceLimits
from trued.procedure import Check, side_read
from trued.standing.history.old_names import reading_typed
from trued.units import Unit, read_angle, read_length
from trued.usecases.files.read_file import read_input, read_text
from trued.usecases.runs.error_cause import cause_alone
from trued.usecases.runs.taking import CheckRun, examined, taken_new
from trued.usecases.shop.list_checks import facts_meant, one_check


def run_check(
    id: str,
    typed: Sequence[str],
    facts: Mapping[str, str],
    *,
    book: Path | None = None,
    fixture: str | None = None,
    unit: Unit | None = None,
    tolerance: str | None = None,
    at: datetime | None = None,
    device: str = "",
    key: str | None = None,
    answers: Sequence[str] = (),
) -> CheckRun:
    """Evaluate the readings of one run of check `id`, typed as `name[@place][:instrument]=value`.

    With a `book` the facts and instruments of the shop fill in, the scatter learnt here is used, and the run is
    kept at the time `at`; `key` is the run's id when the writer has made one (the same key twice is one run);
    `answers` are those to what this call asked before (`Asks`).
    Raises InputRefused for readings that cannot be used, BookRefused for the book.
    """
    check, facts = one_check(id), {**facts_meant(id), **facts}
    typed = [reading_typed(check.id, text) for text in typed]
    typed, facts = side_read(check, typed, facts)
    limits = tolerance_of(check, tolerance, unit or _unit_of(book)) if tolerance is not None else {}
    if book is not None:
        from trued.usecases.runs.keep_run import keep_run

        return keep_run(check, typed, facts, book, fixture, unit, limits, at, device, key, answers)
    _, taken = taken_new(check, typed, facts, Detents(), unit=unit or "in", limits=limits)
    finding = examined(taken)
    cause = cause_alone(check, finding, unit or "in")
    return CheckRun(check, taken, finding, cause=cause, waits=bool(finding.doubts))


def tolerance_of(check: Check, typed: str, unit: Unit = "in") -> dict[str, ToleranceLimits]:
    """`0.003in/ft` or `0.004`, the same both ways, for the check's first feature: an angle where that is one."""
    feature = check.found[0]
    if feature.unit == "rad":
        size = read_angle(typed, where="--tolerance")
    else:
        size = read_length(typed, unit, where="--tolerance").mm
    if size <= 0:
        raise InputRefused.of("--tolerance", typed, "A tolerance must be more than 0.")
    return {feature.name: ToleranceLimits.within(size)}


def _unit_of(book: Path | None) -> Unit:
    """What a bare number is in that book; inches without one."""
    if book is None:
        return "in"
    from trued.usecases.shop.shop_now import opened

    with opened(book) as kept:
        return kept.shop().unit


def readings_of(path: str) -> list[str]:
    """Readings from a file of lines `name,station,instrument,value` (`-` is standard input), as they are typed."""
    text = read_input("--readings") if path == "-" else read_text(Path(path), "--readings")
    try:
        rows = [row for row in csv.reader(text.splitlines()) if row and any(cell.strip() for cell in row)]
    except csv.Error as error:
        raise InputRefused.of("--readings", path, f"This cannot be read as lines of readings: {error}.") from None
    if rows and [cell.strip() for cell in rows[0]] == ["name", "station", "instrument", "value"]:
        rows = rows[1:]
    wrong = [
        Fault(f"line {n}", ",".join(row), "A line is name,station,instrument,value.")
        for n, row in enumerate(rows, 1)
        if len(row) != 4
    ]
    if wrong or not rows:
        raise InputRefused(*wrong) if wrong else InputRefused.of("--readings", path, "The file holds no readings.")
    return [
        f"{n.strip()}{f'@{s.strip()}' if s.strip() else ''}{f':{i.strip()}' if i.strip() else ''}={v.strip()}"
        for n, s, i, v in rows
    ]
