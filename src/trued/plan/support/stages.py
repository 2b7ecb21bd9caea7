"""Where the weight of sled and piece stands at each moment of a crosscut, and what is wrong with it.

Four moments: the piece just clear of the blade; half way; just before the offcut comes off; just after. When the
offcut has gone the centre of mass jumps toward the keeper side: what held until then may tip.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from trued.plan.support.sled_cut import Side, SledCut
from trued.plan.support.statics import (
    STANDARD_GRAVITY,
    Body,
    Ground,
    Margins,
    Point,
    Press,
    margin_inside_mm,
    outline,
    press_to_tip,
    together,
)

# Common practice: a centre of mass nearer than 2 in to the edge cannot be relied on; it covers what is not known of
# density, balance and edges.
RESERVE_MM = 50.8
# Common practice: a tail on the offcut side of more than 6 in wants something of the base's height under it.
LONGEST_TAIL_MM = 152.4

_STEPS = 16


class Stage(StrEnum):
    """A moment of the cut."""

    START = "at the start"
    MID = "half way"
    BEFORE = "just before separation"
    AFTER = "just after separation"
    BETWEEN = "between the start and separation, or on the way back"


@dataclass(frozen=True, slots=True)
class StageLoad:
    """The balance at one place of the travel.

    centre: centre of mass of sled and piece (x, y), mm.  mass_kg: of both.
    to_ground: distance to the outermost edge of table and extensions on each side, mm.
    contact: distance to the outermost edge of what the base really rests on (it may end before the table does), mm.
    margin_mm: distance to the nearest line about which it could tip; negative = tips by itself.
    piece_mm: distance of the piece's own centre inside the nearest edge of the base.
    press: the least press at a corner of base or piece that would tip it.
    """

    stage: Stage
    centre: Point
    mass_kg: float
    to_ground: Margins
    contact: Margins
    margin_mm: float
    piece_mm: float
    press: Press

    @property
    def nearest_side(self) -> Side:
        """The side over which it would tip first."""
        by_side = {
            Side.KEEPER: self.contact.keeper_mm,
            Side.OFFCUT: self.contact.offcut_mm,
            Side.OPERATOR: self.contact.operator_mm,
            Side.FAR: self.contact.far_mm,
        }
        return min(by_side, key=lambda side: by_side[side])


class SupportFault(StrEnum):
    """What can be wrong with the support of a cut."""

    MAKER_FORBIDS = "maker-forbids"
    TIPS = "tips"
    CLOSE = "close"
    PIECE_TIPS = "piece-tips"
    TAIL = "tail"


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong. amount_mm: the margin, or the length of the tail; where: the moment, if it has one."""

    trouble: SupportFault
    what: str
    amount_mm: float = 0.0
    where: StageLoad | None = None


def moments(cut: SledCut) -> tuple[StageLoad, StageLoad, StageLoad, StageLoad]:
    """The four moments, in the order of the cut."""
    start, end = _travel(cut)
    gone = _after(cut)
    return (
        moment_at(cut, start, Stage.START),
        moment_at(cut, (start + end) / 2, Stage.MID),
        moment_at(cut, end, Stage.BEFORE),
        moment_at(gone, end, Stage.AFTER),
    )


def worst_between(cut: SledCut) -> StageLoad:
    """The least margin of the whole way: out with the whole piece, and back with the keeper alone."""
    state, place = min(_way(cut), key=lambda at: _resting(*at).margin_mm)
    return moment_at(state, place, Stage.BETWEEN)


def problems(cut: SledCut) -> tuple[Problem, ...]:
    """Everything wrong with a cut, worst kind first; empty if these sums find nothing."""
    places = (*moments(cut), worst_between(cut))
    return (*_forbidden(cut), *_balance(places), *_loose_piece(cut, places), *_tail(cut))


def bears(cut: SledCut) -> bool:
    """True exactly if `problems` finds none; quicker, for trying many changes."""
    if any(_forbidden(cut)) or any(_tail(cut)):
        return False
    along = (_resting(*at) for at in _way(cut))
    return all(at.margin_mm >= RESERVE_MM and (cut.clamped or at.piece_mm >= RESERVE_MM) for at in along)


def centres(cut: SledCut) -> tuple[Point, ...]:
    """The centre of mass of sled and piece all along the way, (x, y) in mm."""
    return tuple(_resting(*at).centre for at in _way(cut))


def moment_at(cut: SledCut, far_edge_mm: float, stage: Stage) -> StageLoad:
    """The balance when the far edge of the piece is at y = far_edge_mm."""
    at = _resting(cut, far_edge_mm)
    corners = at.base.corners + cut.piece.area_at(far_edge_mm).corners
    weight_n = at.whole.mass_kg * STANDARD_GRAVITY
    return StageLoad(
        stage=stage,
        centre=at.centre,
        mass_kg=at.whole.mass_kg,
        to_ground=_around(cut.grounds).margins_mm(at.centre),
        contact=_around(at.rests or cut.grounds).margins_mm(at.centre),
        margin_mm=at.margin_mm,
        piece_mm=at.piece_mm,
        press=press_to_tip(weight_n, at.centre, at.ring, corners) if at.rests else Press(0.0, corners[0]),
    )


@dataclass(frozen=True, slots=True)
class _Resting:
    """Sled and piece at one place: where they weigh, and what of table and extensions the base rests on."""

    base: Ground
    work: Body
    whole: Body
    grounds: tuple[Ground, ...]
    rests: tuple[Ground, ...]

    @property
    def centre(self) -> Point:
        return self.whole.x_mm, self.whole.y_mm

    @property
    def piece_mm(self) -> float:
        return self.base.margins_mm((self.work.x_mm, self.work.y_mm)).least_mm

    @property
    def ring(self) -> tuple[Point, ...]:
        return outline(corner for ground in self.rests for corner in ground.corners)

    @property
    def margin_mm(self) -> float:
        if self.rests:
            return margin_inside_mm(self.ring, self.centre)
        # The base lies wholly beside table and extensions: nothing holds it, however near they are.
        return min(-1.0, *(ground.margins_mm(self.centre).least_mm for ground in self.grounds))


def _resting(cut: SledCut, far_edge_mm: float) -> _Resting:
    face_mm = far_edge_mm if cut.sled.fence is Side.FAR else far_edge_mm + cut.piece.width_mm
    base, work = cut.sled.base_at(face_mm), cut.piece.body_at(far_edge_mm)
    grounds = cut.grounds
    rests = tuple(shared for ground in grounds if (shared := ground.shared_with(base)))
    return _Resting(base, work, together((cut.sled.body_at(face_mm), work)), grounds, rests)


def _around(grounds: tuple[Ground, ...]) -> Ground:
    """The rectangle around several."""
    return Ground(
        max(ground.keeper_mm for ground in grounds),
        max(ground.offcut_mm for ground in grounds),
        max(ground.operator_mm for ground in grounds),
        max(ground.far_mm for ground in grounds),
    )


def _travel(cut: SledCut) -> tuple[float, float]:
    """Where the piece's far edge is at the start, and when the offcut comes off.

    It comes off when the blade, which is shorter at the piece's upper face, has passed the operator's edge there.
    """
    start = cut.blade.reach_mm(cut.sled.base_mm) + cut.clear_mm
    end = cut.blade.reach_mm(cut.sled.base_mm + cut.piece.thickness_mm) - cut.piece.width_mm
    return start, end


def _way(cut: SledCut) -> Iterator[tuple[SledCut, float]]:
    """Out with the whole piece and back with the keeper; the four moments are among the places."""
    start, end = _travel(cut)
    for state in (cut, _after(cut)):
        for step in range(_STEPS + 1):
            yield state, start + (end - start) * step / _STEPS


def _after(cut: SledCut) -> SledCut:
    return replace(cut, piece=cut.piece.keeper_alone)


def _forbidden(cut: SledCut) -> Iterator[Problem]:
    if "sled" in cut.maker_forbids:
        yield Problem(SupportFault.MAKER_FORBIDS, "the sled")
    for extension in cut.extensions:
        if cut.forbids(extension):
            yield Problem(SupportFault.MAKER_FORBIDS, f"the {extension.name}")


def _balance(places: tuple[StageLoad, ...]) -> Iterator[Problem]:
    least_known = min(moment.margin_mm for moment in places[:-1])
    for moment in places:
        if moment.margin_mm >= RESERVE_MM:
            continue
        if moment.stage is Stage.BETWEEN and moment.margin_mm >= least_known - 0.01:
            continue  # one of the four moments has said it already
        trouble = SupportFault.TIPS if moment.margin_mm < 0 else SupportFault.CLOSE
        yield Problem(trouble, moment.nearest_side, moment.margin_mm, moment)


def _loose_piece(cut: SledCut, places: tuple[StageLoad, ...]) -> Iterator[Problem]:
    worst = min(places, key=lambda moment: moment.piece_mm)
    if not cut.clamped and worst.piece_mm < RESERVE_MM:
        yield Problem(SupportFault.PIECE_TIPS, "the piece", worst.piece_mm, worst)


def _tail(cut: SledCut) -> Iterator[Problem]:
    past_base_mm = cut.piece.tail_mm - cut.sled.offcut_mm
    if not cut.tail_held and past_base_mm > LONGEST_TAIL_MM:
        yield Problem(SupportFault.TAIL, "the tail", past_base_mm)
