"""What to do next about a feature that can be turned, and when to leave it alone.

Leave it when it is proven in, or when a move would gain less than one settling, or is smaller than a hand can make.
What is proven out is turned. Between measuring again and turning, the way is taken that is to be proven in after the
fewest minutes (`foresee.py`); while the side is not known on which it lies, it is measured.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from trued.advice.decision_case import CANNOT_TELL, ONE_RUN, PROVEN, DecisionCase
from trued.advice.preposterior import Ahead, State, Ways, target_of
from trued.measure.decision import Conformity, ToleranceLimits
from trued.measure.estimate import interval
from trued.standing.amounts.amount import expected_said, radius_mm, step_mm
from trued.standing.error_split import split
from trued.standing.feature_status import ActionKind, NextAction
from trued.standing.filtered.gain_mixture import ORDINARY, SLIPPED, STUCK, TOO_FAR
from trued.standing.filtered.kalman import GaussianState
from trued.standing.filtered.observed_gain import BACKLASH, CLAMPED
from trued.standing.filtered.posterior import Posterior

SURE_OF_HYPOTHESIS = 0.7
NOT_WORTH = 480.0  # minutes, a working day: what no move betters and would take longer to prove is left
NOTICED = 0.02  # part of a move; less held back is not worth a sentence


@dataclass(frozen=True, slots=True)
class MoveProposal:
    """A case with what is believed, where the feature should come to, and the ways on from here."""

    case: DecisionCase
    believed: Posterior
    ahead: Ahead
    ways: Ways

    @classmethod
    def of(cls, case: DecisionCase, believed: Posterior, limits: ToleranceLimits) -> MoveProposal:
        """With the ways on followed some runs ahead."""
        ahead = _ahead(case, believed, limits)
        return cls(case, believed, ahead, ahead.ways(_state(case, believed)))

    @property
    def belief(self) -> GaussianState:
        """What is wrong and how much of a move arrives."""
        return self.believed.response.likeliest.belief

    @property
    def target(self) -> float:
        """Where it should come to."""
        return self.ahead.target

    @property
    def out(self) -> float:
        """How far it is from where it should be."""
        return self.belief.x - self.target

    def after(self, move: float) -> tuple[float, float]:
        """Where it will stand after a move, and the half width of its 95 % interval."""
        value = self.believed.after(move, self.ahead.settling)
        low, high = interval(value)
        return value.value, 0.5 * (high - low)


def _ahead(case: DecisionCase, believed: Posterior, limits: ToleranceLimits) -> Ahead:
    known, actuator = case.known, case.known.actuator
    settling, minutes = (actuator.settling, actuator.minutes) if actuator is not None else (0.0, 0.0)
    common = sum((c * source.u) ** 2 for source, c in believed.track.shared.items())
    return Ahead(limits, target_of(limits), known.minutes, minutes, settling, _step(case), common)


def _step(case: DecisionCase) -> float:
    """The step of the hand: what two feelers differ by at the screw, where its radius is known."""
    radius = radius_mm(case.feature, case.shop) if case.known.unit == "rad" else None
    if radius is not None:
        return step_mm(case.shop.unit if case.shop is not None else "in") / radius
    return case.known.actuator.finest if case.known.actuator is not None else 0.0


def _state(case: DecisionCase, believed: Posterior) -> State:
    parts, scatter = split(believed.track.last.x, believed.scatter), believed.scatter
    dof = scatter.dof if scatter is not None else math.inf
    return State(believed.response.likeliest.belief, math.sqrt(parts.run), dof, parts.readings, case.pair_seen)


def next_of_followed(case: DecisionCase, believed: Posterior) -> NextAction | None:
    """The next action for a feature that the filter follows; None where there is nothing to decide."""
    if (first := case.first) is not None:
        return first
    if case.decision is None or case.limits is None:
        return None
    if case.decision is Conformity.PROVEN_IN:
        return PROVEN
    track = believed.track
    if believed.blunder == STUCK.blunder and track.runs == 1:
        return _not_touching(case)
    turning = MoveProposal.of(case, believed, case.limits)
    if believed.blunder == STUCK.blunder and case.decision is Conformity.PROVEN_OUT:
        return _touches_now(turning)
    likeliest = track.cases.likeliest
    if likeliest.chance < SURE_OF_HYPOTHESIS or (likeliest.hypothesis != ORDINARY and not _told(track.cases.blunder)):
        return _unclear(turning)
    small, out = _too_small(turning), case.decision is Conformity.PROVEN_OUT
    if small is not None:
        ends = turning.ways.again if not out else math.inf
        return small if ends > NOT_WORTH else case.again(CANNOT_TELL if case.pair_seen else ONE_RUN)
    if out or turning.ways.turned < turning.ways.again:
        return _move(turning)
    return case.again(CANNOT_TELL if case.pair_seen else ONE_RUN)


def _told(blunder: str) -> bool:
    return blunder not in ("", SLIPPED)


def _unclear(turning: MoveProposal) -> NextAction:
    """Measure once more; when that was done, turn the way that is best whatever a move does here, and never by more
    than what is out: that is a checking move, and can do little harm if it goes the other way.
    """
    if turning.believed.track.runs < 2:
        return turning.case.again("Your moves don't add up yet. Measure again.")
    best, out = turning.believed.track.cases.move_to(turning.target), abs(turning.out)
    why = "Test move: the last one landed wrong."
    return _turn(turning, max(-out, min(out, best)), why)


def _not_touching(case: DecisionCase) -> NextAction:
    return NextAction(
        ActionKind.LOOK,
        f"Does the screw touch the fence? Loosen the lock before you move it. Then run {case.known.check} once more.",
        "The last move did nothing.",
        check=case.known.check,
    )


def _touches_now(turning: MoveProposal) -> NextAction:
    """It was looked at and found again: turned as if the screw did what it is told, for that is what is to be seen."""
    why = "Test move: does the screw touch now?"
    return _turn(turning, turning.out, why)


def _too_small(turning: MoveProposal) -> NextAction | None:
    """A move that is not worth making: its gain is below a settling, or no hand can make it."""
    case, belief, actuator = turning.case, turning.belief, turning.case.known.actuator
    if actuator is None:
        return None
    move = belief.move_to(turning.target)
    before = math.sqrt(belief.expected_square(0.0, turning.target))
    after = math.sqrt(belief.expected_square(move, turning.target) + actuator.settling**2)
    if before - after < actuator.settling:
        return NextAction(ActionKind.LEAVE, "Leave it.", "Locking moves it more than that.")
    if not turning.ways.move:
        why = f"The move would be {case.said(move)}, less than a hand can make."
        return NextAction(ActionKind.LEAVE, "Leave it.", why)
    return None


def _move(turning: MoveProposal) -> NextAction:
    move = turning.belief.move_to(turning.target)
    return _turn(turning, move, _why(turning, move))


def _turn(turning: MoveProposal, move: float, why: str) -> NextAction:
    case = turning.case
    directions = case.known.directions or ("", "")
    direction = directions[0 if move > 0.0 else 1]
    order = case.order(move)
    text = f"{order[:1].upper()}{order[1:]}, {case.ordered(move)}."
    if move < 0.0:
        text += f" {approach_said()}"
    x, half = turning.after(math.copysign(case.settable(move), move))
    expect = f"After the move expect {expected_said(x, half, case.known.unit, case.feature, case.shop)}."
    return NextAction(
        ActionKind.MOVE,
        text,
        why,
        direction,
        abs(move),
        case.known.check,
        directions[0],
        order,
        after=(x, half),
        expect=expect,
    )


def approach_said() -> str:
    """How to come to the place, so that the play of the screw always lies to one side."""
    return "Go past, then come back, to take up the backlash."


def _why(turning: MoveProposal, move: float) -> str:
    case, belief = turning.case, turning.belief
    full, g = abs(turning.out), belief.g
    u = math.sqrt(max(belief.gg, 0.0))
    sure = case.decision is Conformity.PROVEN_OUT
    near = f"It is {case.said(full)} off, near its limit: a move tells sooner than another run."
    out = f"Full move {case.said(full)}." if sure else near
    if turning.believed.blunder == SLIPPED:
        out += " The last move missed by a lot. Does the lock hold?"
    if turning.believed.blunder == CLAMPED:
        out += " Your moves land short. Does tightening pull the fence back?"
    if turning.believed.blunder == BACKLASH:
        out += " Backlash ate part of the last move."
    hypothesis = turning.believed.track.cases.likeliest.hypothesis
    if hypothesis == TOO_FAR:
        return f"{out} It moved over twice the amount. Check the pivot-to-screw distance."
    if hypothesis != ORDINARY:
        return f"{out} It moved the wrong way. Ends swapped, or screw reversed? Mark the fence end first."
    go = f"Go {100.0 * abs(move) / full:.0f}%."
    if not turning.believed.track.any_move:
        low, high = 100.0 * (g - u), 100.0 * (g + u)
        return f"{out} First move here. {go} First moves usually land at {low:.0f} to {high:.0f}% (assumed)."
    if abs(abs(move) / full - 1.0) < NOTICED:
        return f"{out} Your moves land as made ({g:.2f} ± {1.96 * u:.2f})."
    return f"{out} {go} Yours moves {g:.2f} per 1 turned (±{1.96 * u:.2f})."
