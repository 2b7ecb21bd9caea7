"""Which slip of hand or pen explains a run that lies where it should not: each weighed against honest scatter.

Beside the estimator and fed by it: nothing here changes what is believed. An arm is what was believed before, the moves
as they were recorded since, and the run or runs that came after them. Each case says where those runs should lie; its
chance is its prior times how well it foretold them and the moves as recorded (Bayes). The priors are common practice,
stated here and nowhere else. Given the case everything is linear in (x, g); the scatter between runs is known from few
runs, so the densities are Student's t and not normal.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum
from statistics import NormalDist

from trued.standing.filtered.kalman import GaussianState


class Slip(StrEnum):
    """What may have gone wrong; `RIGHT` is all as recorded, `ELSE` is none of these."""

    RIGHT = "right"
    FORGOTTEN = "move-not-recorded"
    TWICE = "move-recorded-twice"
    DECIMAL = "move-ten-times-off"
    WAY = "ends-swapped-or-reversed"
    STILL = "screw-not-touching"
    SAME = "same-strip-again"
    ELSE = "something-else"


# Priors, all common practice: how often a careful person at a screw slips so.
FORGETS = 0.10  # of the times a move was advised and the next row is a run with no move: made and not written down
FORGETS_UNADVISED = 0.003  # the same where nothing was to be turned
REPEATS_ENTRY = 0.30  # of two like moves with no run between: nobody makes the same move twice without looking
MISPLACES_POINT = 0.01  # of moves: typed ten times too big or too small
TURNS_WRONG = 0.01  # of moves: turned, or typed, the other way
SWAPS_ENDS = 0.01  # of runs: the two ends changed over, or the check's other pair
NOT_TOUCHING = 0.02  # of moves: the screw does not reach, or the lock holds
READS_AGAIN = 0.01  # of runs: the strip of the run before, read and typed once more
TAKES_UP_PLAY = 0.20  # of moves turned back: a part of it, as likely one as another, is lost in the play of the screw
SOMETHING_ELSE = 0.01  # of runs: a knock that nobody told, a misread digit, a strip that was not held

STILL_MOVES = 0.1  # of a move that does not arrive: standard deviation of what arrives all the same
LIKE = 0.02  # two moves that differ by no more are like
NEAR, FAR, FAR_SHARE = 0.25, 2.0, 0.1  # ln of what is turned over what was advised: sd of most, of the others
AGAINST = 0.03  # moves made against the way that was advised
ELSE_SETTLINGS = 30.0  # standard deviation of something else
QUICK, QUICK_HONEST, QUICK_SAME = 0.5, 0.1, 0.8  # sooner than this part of the check's time: two runs typed after both
# were cut, or one strip read again
ASKED_UNDER, LEARNT_FROM = (
    0.5,
    0.95,
)  # chance that all is as recorded: asked where a slip is likelier; nothing is learnt
# of the screw where it is less sure than any other proof here
LEAST = 1e-300

_NORMAL = NormalDist()


@dataclass(frozen=True, slots=True)
class Turned:
    """One move as recorded: `u` with its sign."""

    id: str
    u: float


@dataclass(frozen=True, slots=True)
class Arm:
    """What was believed of (x, g) before, the moves as recorded since, and the runs after them.

    advised:  the move that would have been advised then, 0.0 where none was.
    before:   id, value and count of the runs that the belief rests on since it was last touched.
    found:    mean of the runs after the moves, `n` of them; `own` the variance of one of them and `read` the part that
              reading one strip has; `dof` how well the scatter between runs is known.
    quick:    whether the run came sooner than half of the check's time after the one before.
    settling: standard deviation of how it settles where it was turned. back: turned back from the move before.
    previous: the arm before it, from which the belief learnt: a slip in that one may show only now.
    """

    belief: GaussianState
    moves: tuple[Turned, ...]
    advised: float
    run_before: str
    value_before: float
    runs_before: int
    run: str
    found: float
    n: int
    own: float
    read: float
    dof: float
    settling: float
    usual_settling: float
    quick: bool = False
    back: bool = False
    previous: Arm | None = None

    @property
    def turned(self) -> float:
        """All that was recorded."""
        return math.fsum(move.u for move in self.moves)


@dataclass(frozen=True, slots=True)
class Case:
    """One explanation. `detail`: for the other way `turned`, `ends` or `ends-before`; for a point `tenth` (what was
    really turned is a tenth of what was typed) or `tenfold`. about: the move or run that would be mended; `u`: what was
    really turned then."""

    slip: Slip
    chance: float
    detail: str = ""
    about: str = ""
    u: float = 0.0


def weigh(arm: Arm) -> tuple[Case, ...]:
    """All cases with their chances, the likeliest first."""
    cases = [case for case in _joint(arm) if case.chance > 0.0]
    total = math.fsum(case.chance for case in cases)
    if total <= LEAST:
        return (Case(Slip.ELSE, 1.0),)
    told = (replace(case, chance=case.chance / total) for case in cases)
    return tuple(sorted(told, key=lambda case: (-case.chance, case.slip, case.detail)))


def by_slip(cases: tuple[Case, ...]) -> dict[Slip, float]:
    """The chance of each kind, all its details together; the likeliest first."""
    total: dict[Slip, float] = {}
    for case in cases:
        total[case.slip] = total.get(case.slip, 0.0) + case.chance
    return dict(sorted(total.items(), key=lambda item: -item[1]))


def right(cases: tuple[Case, ...]) -> float:
    """The chance that all is as recorded; 1 where there was nothing to weigh."""
    return by_slip(cases).get(Slip.RIGHT, 0.0) if cases else 1.0


def to_ask(cases: tuple[Case, ...]) -> Slip | None:
    """The slip that is asked about first; None where all is likelier right, or no slip explains it best."""
    if right(cases) >= ASKED_UNDER:
        return None
    kinds = by_slip(cases)
    kinds.pop(Slip.RIGHT, None)
    best = next(iter(kinds), Slip.ELSE)
    return None if best is Slip.ELSE else best


def _joint(arm: Arm) -> Iterator[Case]:
    """Cases of this arm where all was right in the one before; and of that one where all is right in this."""
    before = arm.previous
    if before is None:
        yield from _cases(arm)
        return
    earlier = list(_cases(before))
    right_before = math.fsum(case.chance for case in earlier if case.slip is Slip.RIGHT)
    yield from (replace(case, chance=case.chance * right_before) for case in _cases(arm))
    for case in earlier:
        if case.slip not in (Slip.RIGHT, Slip.ELSE, Slip.SAME) and case.chance > 0.0:
            now = replace(arm, belief=_learnt(before, case), previous=None)
            all_right = next(one for one in _cases(now) if one.slip is Slip.RIGHT)
            yield replace(case, chance=case.chance * all_right.chance, detail=_EARLIER.get(case.detail, case.detail))


_EARLIER = {"ends": "ends-before"}


def _learnt(arm: Arm, case: Case) -> GaussianState:
    """What would have been believed after that arm, had it been so."""
    b, found = arm.belief, -arm.found if case.detail == "ends" else arm.found
    if case.detail == "ends-before":
        b = b._replace(x=-b.x, xg=-b.xg)
    u = 0.0 if case.slip is Slip.STILL else case.u
    extra = STILL_MOVES * arm.turned if case.slip is Slip.STILL else 0.0
    settling = math.hypot(arm.settling if arm.moves else arm.usual_settling, extra)
    return b.moved(u, settling).found(found, arm.own / arm.n, 0.0)


def _cases(arm: Arm) -> Iterator[Case]:
    u, typed = arm.turned, _typed_like(arm, arm.turned)
    slips: list[Case] = []
    if arm.moves:
        slips += _of_moves(arm)
    else:
        chance = FORGETS if arm.advised else FORGETS_UNADVISED
        way = arm.advised or arm.belief.move_to(0.0)
        slips.append(Case(Slip.FORGOTTEN, chance * _foretold(arm, way, spread=NEAR), about=arm.run, u=way))
    slips.append(Case(Slip.WAY, SWAPS_ENDS * typed * _foretold(arm, u, swapped=True), "ends", arm.run, u))
    if arm.runs_before == 1:
        before = SWAPS_ENDS * typed * _foretold(arm, u, swapped_before=True)
        slips.append(Case(Slip.WAY, before, "ends-before", arm.run_before, u))
    if arm.n == 1 and arm.read > 0.0:
        same = READS_AGAIN * typed * _t(arm.found - arm.value_before, 2.0 * arm.read, math.inf)
        slips.append(Case(Slip.SAME, same * (QUICK_SAME if arm.quick else 1.0 - QUICK_SAME), about=arm.run, u=u))
    wide = (ELSE_SETTLINGS * arm.usual_settling) ** 2
    slips.append(Case(Slip.ELSE, SOMETHING_ELSE * typed * _foretold(arm, u, more=wide), about=arm.run, u=u))
    quick = QUICK_HONEST if arm.quick else 1.0 - QUICK_HONEST
    yield Case(Slip.RIGHT, typed * quick * (_foretold(arm, u) + _play_taken_up(arm, u)), about=arm.run, u=u)
    yield from (c if c.slip is Slip.SAME else replace(c, chance=c.chance * quick) for c in slips)


def _of_moves(arm: Arm) -> Iterator[Case]:
    u = arm.turned
    for place, move in enumerate(arm.moves):
        for factor, detail in ((0.1, "tenth"), (10.0, "tenfold")):
            really = u + (factor - 1.0) * move.u
            chance = MISPLACES_POINT / 2.0 * _typed_like(arm, really) * _foretold(arm, really)
            yield Case(Slip.DECIMAL, chance, detail, move.id, really)
        other = u - 2.0 * move.u
        chance = TURNS_WRONG * max(_typed_like(arm, u), _typed_like(arm, other)) * _foretold(arm, other)
        yield Case(Slip.WAY, chance, "turned", move.id, other)
        if place and abs(move.u - arm.moves[place - 1].u) <= LIKE * abs(move.u):
            once = u - move.u
            chance = REPEATS_ENTRY * _typed_like(arm, once) * _foretold(arm, once)
            yield Case(Slip.TWICE, chance, "", move.id, once)
    still = NOT_TOUCHING * _typed_like(arm, u) * _not_arrived(arm, u)
    yield Case(Slip.STILL, still, "", arm.moves[-1].id, 0.0)


def _foretold(
    arm: Arm,
    u: float,
    *,
    spread: float = 0.0,
    more: float = 0.0,
    swapped: bool = False,
    swapped_before: bool = False,
) -> float:
    """Density of what was found, had `u` been turned. spread: how well `u` itself is known, as a part of it."""
    b = arm.belief
    x, xg = (-b.x, -b.xg) if swapped_before else (b.x, b.xg)
    settle = arm.settling**2 if arm.moves else (arm.usual_settling**2 if u else 0.0)
    variance = b.xx - 2.0 * u * xg + u * u * b.gg + settle + more + (b.g**2 + b.gg) * (spread * u) ** 2
    found = -arm.found if swapped else arm.found
    return _t(found - (x - b.g * u), variance + arm.own / arm.n, arm.dof)


def _play_taken_up(arm: Arm, u: float) -> float:
    """Turned back, all lengths of play up to the whole move are alike."""
    if not arm.back or not u:
        return 0.0
    sd = math.sqrt(arm.belief.xx + arm.own / arm.n)
    low, high = sorted((arm.belief.x, arm.belief.x - arm.belief.g * u))
    inside = _NORMAL.cdf((high - arm.found) / sd) - _NORMAL.cdf((low - arm.found) / sd)
    return TAKES_UP_PLAY * inside / max(high - low, sd)


def _not_arrived(arm: Arm, u: float) -> float:
    variance = arm.belief.xx + (STILL_MOVES * u) ** 2 + arm.settling**2 + arm.own / arm.n
    return _t(arm.found - arm.belief.x, variance, arm.dof)


def _typed_like(arm: Arm, u: float) -> float:
    """How likely a person makes the move `u` where `advised` was told (density of the logarithm, and the way); 1 where
    nothing was advised, or nothing was turned."""
    if not arm.advised or not arm.moves or not u:
        return 1.0
    log = math.log(abs(u / arm.advised))
    amount = (1.0 - FAR_SHARE) * _normal(log, NEAR) + FAR_SHARE * _normal(log, FAR)
    return amount * (1.0 - AGAINST if u * arm.advised > 0.0 else AGAINST)


def _normal(x: float, sd: float) -> float:
    return math.exp(-0.5 * (x / sd) ** 2) / (sd * math.sqrt(2.0 * math.pi))


def _t(miss: float, variance: float, dof: float) -> float:
    """Density of Student's t with that scale; the normal where the scatter is known."""
    if variance <= 0.0:
        return 0.0
    sd = math.sqrt(variance)
    if math.isinf(dof):
        return _normal(miss, sd)
    log = math.lgamma((dof + 1.0) / 2.0) - math.lgamma(dof / 2.0) - 0.5 * math.log(dof * math.pi)
    return math.exp(log - (dof + 1.0) / 2.0 * math.log1p((miss / sd) ** 2 / dof)) / sd
