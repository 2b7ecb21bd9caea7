"""Work out one run of a check; with a book, keep it and say what is now known."""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from trued.errors import Fault, Faults, InputRefused
from trued.form import DANGER, Check, Finding, Found, Taken, dangers_of, examine, side_read, take, turn_told
from trued.measure.decision import Limits
from trued.measure.instrument import Instrument
from trued.measure.scatter import Scatter
from trued.measure.which_dominates import Dominates
from trued.shapes import Drawing, not_to_be_moved
from trued.shop.feature import bare_name, find_feature
from trued.shop.old_names import reading_typed
from trued.shop.turned import Detents
from trued.units import Unit, read_angle, read_length
from trued.usecases.cause import cause_alone
from trued.usecases.in_turn import in_turn
from trued.usecases.list_checks import facts_meant, one_check
from trued.usecases.read_file import read_input, read_text
from trued.usecases.verdict import Verdict, verdict_of

if TYPE_CHECKING:
    from trued.shop.standing import Standing


@dataclass(frozen=True, slots=True)
class CheckRun:
    """One run: what was taken, what was found, under which id it is kept (None: nothing was kept).

    full: bare feature -> its full name; empty without a book, which alone knows the things of the shop.
    cause: whether what is off comes from the saw or from measuring; None where nothing is off or nothing can be told.
    waits: it is in doubt and does not count yet: nothing is ordered from it.
    """

    check: Check
    taken: Taken
    finding: Finding
    full: Mapping[str, str] = field(default_factory=dict)
    run: str | None = None
    standings: tuple[Standing, ...] = ()
    cause: Dominates | None = None
    waits: bool = False

    @property
    def verdict(self) -> Verdict:
        """What it comes to, and the one thing to do where that is to read it again."""
        return verdict_of(self.check, self.finding, self.standings, waits=self.waits)

    @property
    def unit(self) -> Unit:
        """What a bare number of the person's means."""
        return "mm" if self.taken.unit == "mm" else "in"

    @property
    def drawing(self) -> Drawing:
        """This person's saw and fixture with what was found."""
        return drawn(self.check, self.taken, self.finding, self.standings, waits=self.waits)


def drawn(
    check: Check, taken: Taken, finding: Finding, standings: Sequence[Standing], *, waits: bool = False
) -> Drawing:
    """What was found, drawn; with a move only where one comes first: by what is believed, else by this run alone.

    waits: the run does not count yet, so that none is drawn.
    """
    believed_so = () if waits else standings
    drawing = check.draw(taken, tuple(_believed(found, believed_so) for found in finding.founds))
    first = next((standing.next for standing in in_turn(standings)), None)
    believed = any(standing.next is not None for standing in standings)
    advised = first is not None and (first.do == "move" or first.mends) if believed else bool(finding.moves)
    return drawing if advised and not waits else without_move(drawing)


def _believed(found: Found, standings: Sequence[Standing]) -> Found:
    """A feature as all runs together have it: drawn by this run alone it would contradict the verdict."""
    own = next((s for s in standings if bare_name(s.feature) == found.feature and s.unit == found.unit), None)
    return found if own is None else replace(found, value=own.x, limits=own.limits or found.limits)


def without_move(drawing: Drawing) -> Drawing:
    """What was found, when nothing is to be turned by it any more."""
    return not_to_be_moved(drawing)


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
        from trued.usecases.kept_run import keep_run

        return keep_run(check, typed, facts, book, fixture, unit, limits, at, device, key, answers)
    _, taken = taken_new(check, typed, facts, Detents(), unit=unit or "in", limits=limits)
    finding = examined(taken)
    cause = cause_alone(check, finding, unit or "in")
    return CheckRun(check, taken, finding, cause=cause, waits=bool(finding.doubts))


def taken_new(
    check: Check,
    typed: Sequence[str],
    facts: Mapping[str, str],
    detents: Detents,
    *,
    instruments: Sequence[Instrument] = (),
    unit: Unit = "in",
    scatter: Scatter | None = None,
    limits: Mapping[str, Limits],
) -> tuple[dict[str, str], Taken]:
    """A new run with the angle that it holds for; all its faults at once."""
    faults = Faults()
    told = {name: text for name, text in facts.items() if name not in ("angle", "swing")}
    try:
        told = turn_told(check, facts, detents)
    except InputRefused as refused:
        faults.take(refused)
    try:
        taken = take(check, typed, told, instruments=instruments, unit=unit, scatter=scatter, limits=limits)
    except InputRefused as refused:
        faults.take(refused)
        raise InputRefused(*sorted(faults, key=lambda fault: fault.where != DANGER)) from None
    if faults:
        raise InputRefused(*(Fault(DANGER, "", seen.text) for seen in dangers_of(taken)), *faults)
    return told, taken


def examined(taken: Taken) -> Finding:
    """The finding, or InputRefused when the readings themselves show that nothing can be worked out."""
    finding = examine(taken)
    if finding.refused:
        dangers = (Fault(DANGER, "", seen.text) for seen in finding.dangers)
        raise InputRefused(*dangers, *(Fault(seen.code, "", seen.text) for seen in finding.refused))
    return finding


def tolerance_of(check: Check, typed: str, unit: Unit = "in") -> dict[str, Limits]:
    """`0.003in/ft` or `0.004`, the same both ways, for the check's first feature: an angle where that is one."""
    feature = find_feature(check.features[0])
    if feature is not None and feature.unit == "rad":
        size = read_angle(typed, where="--tolerance")
    else:
        size = read_length(typed, unit, where="--tolerance").mm
    if size <= 0:
        raise InputRefused.of("--tolerance", typed, "A tolerance must be more than 0.")
    return {check.features[0]: Limits.within(size)}


def _unit_of(book: Path | None) -> Unit:
    """What a bare number is in that book; inches without one."""
    if book is None:
        return "in"
    from trued.usecases.shop_now import opened

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
