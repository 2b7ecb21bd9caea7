"""One run of a check: what was typed taken as a whole, worked out, and drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from trued.drawing.shapes import Drawing, not_to_be_moved
from trued.equipment.fence_swing import Detents
from trued.errors import Fault, Faults, InputRefused
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.instrument import Instrument
from trued.measure.series.dominant_error import DominantError
from trued.procedure import DANGER, Check, FeatureResult, Finding, RunInput, dangers_of, examine, take, turn_told
from trued.standing.feature import bare_name
from trued.units import Unit
from trued.usecases.runs.verdict import Verdict, verdict_of
from trued.usecases.standing.action_queue import in_turn

if TYPE_CHECKING:
    from trued.standing.feature_status import FeatureStatus


@dataclass(frozen=True, slots=True)
class CheckRun:
    """One run: what was taken, what was found, under which id it is kept (None: nothing was kept).

    full: bare feature -> its full name; empty without a book, which alone knows the things of the shop.
    cause: whether what is off comes from the saw or from measuring; None where nothing is off or nothing can be told.
    waits: it is in doubt and does not count yet: nothing is ordered from it.
    moved: its features of which a move was recorded before.
    """

    check: Check
    taken: RunInput
    finding: Finding
    full: Mapping[str, str] = field(default_factory=dict)
    run: str | None = None
    standings: tuple[FeatureStatus, ...] = ()
    cause: DominantError | None = None
    waits: bool = False
    moved: frozenset[str] = frozenset()

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
    check: Check, taken: RunInput, finding: Finding, standings: Sequence[FeatureStatus], *, waits: bool = False
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


def _believed(found: FeatureResult, standings: Sequence[FeatureStatus]) -> FeatureResult:
    """A feature as all runs together have it: drawn by this run alone it would contradict the verdict."""
    own = next((s for s in standings if bare_name(s.feature) == found.feature and s.unit == found.unit), None)
    return found if own is None else replace(found, value=own.x, limits=own.limits or found.limits)


def without_move(drawing: Drawing) -> Drawing:
    """What was found, when nothing is to be turned by it any more."""
    return not_to_be_moved(drawing)


def taken_new(
    check: Check,
    typed: Sequence[str],
    facts: Mapping[str, str],
    detents: Detents,
    *,
    instruments: Sequence[Instrument] = (),
    unit: Unit = "in",
    scatter: EstimatedSd | None = None,
    limits: Mapping[str, ToleranceLimits],
) -> tuple[dict[str, str], RunInput]:
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


def examined(taken: RunInput) -> Finding:
    """The finding, or InputRefused when the readings themselves show that nothing can be worked out."""
    finding = examine(taken)
    if finding.refused:
        dangers = (Fault(DANGER, "", seen.text) for seen in finding.dangers)
        raise InputRefused(*dangers, *(Fault(seen.code, "", seen.text) for seen in finding.refused))
    return finding
