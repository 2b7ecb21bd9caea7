"""What to do next about a feature that can be turned, and when to leave it alone.

Leave it when it is proven in, when the gain to be expected of a move is below one settling, or when the move is
smaller than a hand can make. One run may prove out and lead to a move, but the run that would prove in is repeated
with nothing touched while this shop holds no untouched pair of that procedure. Between measuring again and turning,
the one that is likelier to have proved it in by the next run is taken.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from trued.measure.decision import LEVEL, Decision
from trued.shop.amount import FEELER_MM, radius_mm
from trued.shop.arrival import BACKLASH, CLAMPED
from trued.shop.believed import Believed
from trued.shop.case import CANNOT_TELL, ONE_RUN, PROVEN, Case
from trued.shop.drift import LEAST_DAYS
from trued.shop.feature import named
from trued.shop.foresee import half_of, proven_after, target_of
from trued.shop.order_words import order_said
from trued.shop.response import ORDINARY, SLIPPED, STUCK, TOO_FAR, Branch
from trued.shop.standing import Do, Next
from trued.shop.words import SledLayout

SURE_OF_HYPOTHESIS = 0.7
SURPRISE = 2.5  # standard deviations; beyond it a run is repeated before it is believed
A_MOVE_COSTS = 0.05  # so much likelier to end it must a move be than a run with nothing touched
ON_NOISE = 0.13  # chance to be within half the limits above which nothing is turned
MOST_RUNS, HARDLY = 6, 0.05  # untouched, of what no move betters, the last of this week; less likely: not worth a run
NOTICED = 0.02  # part of a move; less held back is not worth a sentence


@dataclass(frozen=True, slots=True)
class Turning:
    """A case with what is believed, the likeliest hypothesis, and where the feature should come to."""

    case: Case
    believed: Believed
    best: Branch
    target: float

    @property
    def out(self) -> float:
        """How far it is from where it should be."""
        return self.believed.response.x - self.target

    @property
    def settling(self) -> float:
        actuator = self.case.known.actuator
        return actuator.settling if actuator is not None else 0.0


def next_of_followed(case: Case, believed: Believed) -> Next | None:
    """The next action for a feature that the filter follows; None where there is nothing to decide."""
    if (first := case.first) is not None:
        return first
    if case.decision is None or case.chance_in is None:
        return None
    if case.decision is Decision.PROVEN_IN:
        return PROVEN
    response, track = believed.response, believed.track
    if believed.blunder == STUCK.blunder and track.runs == 1:
        return _not_touching(case)
    if track.surprise > SURPRISE and not response.blunder and track.runs == 1:
        return case.again("The last run is not what was to be expected.")
    if not case.pair_seen and case.chance_in >= LEVEL:
        return case.again(ONE_RUN)
    turning = Turning(case, believed, response.likeliest, target_of(case.limits))
    if believed.blunder == STUCK.blunder and case.decision is Decision.PROVEN_OUT:
        return _touches_now(turning)
    best = turning.best
    if best.chance < SURE_OF_HYPOTHESIS or (best.hypothesis != ORDINARY and response.blunder in ("", SLIPPED)):
        return _unclear(turning)
    small = _too_small(turning)
    if case.decision is Decision.NOT_PROVEN and _rather_again(turning, movable=small is None):
        return case.again(CANNOT_TELL if case.pair_seen else ONE_RUN)
    return small or _move(turning)


def _rather_again(turning: Turning, *, movable: bool) -> bool:
    """Whether one more run with nothing touched is as likely to end it as a move and a run.

    A move is no choice while the feature may well lie within half its limits: it would be made on noise.
    """
    limits, believed = turning.case.limits, turning.believed
    if limits is None:
        return True
    again = proven_after(believed, limits)
    if not movable:
        enough = believed.track.runs >= MOST_RUNS and believed.days < LEAST_DAYS
        return not enough and (again > HARDLY or not turning.case.pair_seen)
    half = half_of(limits)
    if half is not None and believed.chance_in(half) > ON_NOISE:
        return True
    after = proven_after(believed, limits, turning.best.belief.move_to(turning.target), turning.settling)
    if not turning.case.pair_seen:
        after *= 0.5  # it would still need an untouched run
    return again + A_MOVE_COSTS >= after


def _unclear(turning: Turning) -> Next:
    """Measure once more; when that was done, turn the way that is best whatever a move does here, and never by more
    than what is out: that is a checking move, and can do little harm if it goes the other way.
    """
    if turning.believed.track.runs < 2:
        return turning.case.again("It is not clear yet what a move does here.")
    best, out = turning.believed.response.move_to(turning.target), abs(turning.out)
    why = "This move is there to see what moves do here: the last one did not arrive as it was turned."
    return _turn(turning.case, max(-out, min(out, best)), why)


def _not_touching(case: Case) -> Next:
    return Next(
        Do.LOOK,
        "See that the screw touches the fence, and that nothing else holds it; loosen the lock before you turn. "
        f"Then run {case.known.check} once more.",
        "What was turned did not arrive.",
        check=case.known.check,
    )


def _touches_now(turning: Turning) -> Next:
    """It was looked at and found again: turned as if the screw did what it is told, for that is what is to be seen."""
    why = "The moves before it did not arrive; this one is there to see whether the screw touches now."
    return _turn(turning.case, turning.out, why)


def _too_small(turning: Turning) -> Next | None:
    """A move that is not worth making: its gain is below a settling, or no hand can make it."""
    case, belief, actuator = turning.case, turning.best.belief, turning.case.known.actuator
    if actuator is None:
        return None
    move = belief.move_to(turning.target)
    before = math.sqrt(belief.expected_square(0.0, turning.target))
    after = math.sqrt(belief.expected_square(move, turning.target) + actuator.settling**2)
    radius = radius_mm(case.feature, case.shop) if case.known.unit == "rad" else None
    finest = actuator.finest if radius is None else FEELER_MM / radius
    if before - after < actuator.settling:
        return Next(Do.LEAVE, "Leave it.", "A move would gain less than what it settles by when it is locked.")
    if abs(move) < finest:
        why = f"The move would be {case.said(move)}, less than a hand can make."
        return Next(Do.LEAVE, "Leave it.", why)
    return None


def _move(turning: Turning) -> Next:
    move = turning.best.belief.move_to(turning.target)
    return _turn(turning.case, move, _why(turning, move))


def _turn(case: Case, move: float, why: str) -> Next:
    directions = case.known.directions or ("", "")
    direction, other = directions if move > 0.0 else directions[::-1]
    order = order_said(case.feature, direction, case.known.directions)
    text = f"{order[:1].upper()}{order[1:]} by {case.ordered(move)}{_way(case, move)}."
    if move < 0.0:
        text += f" {approach_said(other)}"
    return Next(Do.MOVE, text, why, direction, abs(move), case.known.check, directions[0], order)


def approach_said(direction: str) -> str:
    """How to come to the place, so that the play of the screw always lies to one side."""
    way = direction.replace("-", " ")
    return f"Go past the place and come back by turning it {way}: then the play of the screw lies as it did."


def _why(turning: Turning, move: float) -> str:
    case, belief = turning.case, turning.best.belief
    full, g = abs(turning.out), belief.g
    u = math.sqrt(max(belief.gg, 0.0))
    sure = case.decision is Decision.PROVEN_OUT
    out = f"It is out by {case.said(full)}, sure enough." if sure else "It is too near its limit to tell."
    if turning.believed.blunder == SLIPPED:
        out += " The last move went far from where it was turned: see that the lock holds."
    if turning.believed.blunder == CLAMPED:
        out += " Of the last moves only a part arrived: see whether tightening the clamp moves the fence back."
    if turning.believed.blunder == BACKLASH:
        out += " The last move was turned back and fell short: the play of the screw took up its start."
    if turning.best.hypothesis == TOO_FAR:
        return f"{out} The last move went more than twice as far as it was told: is the distance to the screw right?"
    if turning.best.hypothesis != ORDINARY:
        return (
            f"{out} Moves work the other way round here: the two ends are read the wrong way round, or the screw "
            "turns the other way. Mark the fence end on the next strip before it is freed."
        )
    if not turning.believed.track.any_move:
        first = "It is out, sure enough." if sure else out
        held = 100.0 * (1.0 - abs(move) / full)
        return (
            f"{first} The full move would be {case.said(full)}; {held:.0f} % of it is held back, "
            f"because no move has been seen here yet: from {g - u:.1f} to {g + u:.1f} of what is turned may arrive."
        )
    more = "less" if abs(move) < full else "more"
    if abs(abs(move) / full - 1.0) < NOTICED:
        return f"{out} Moves have arrived here as they were turned ({g:.2f} ± {u:.2f})."
    return f"{out} This is {more} than that, because {g:.2f} ± {u:.2f} of what is turned has arrived here."


def _way(case: Case, move: float) -> str:
    """Which way the fence goes, where its layout is known."""
    if case.known.name not in ("fence-angle", "detent-angle"):
        return ""
    opening = move > 0.0
    end = "goes away from the work" if opening else "comes into the work"
    thing = named(case.feature).thing
    fixtures = case.shop.fixtures if case.shop is not None else ()
    fixture = next((f for f in fixtures if f.id == thing), None)
    layout = SledLayout.known(fixture.word("fence"), fixture.word("keeper")) if fixture is not None else None
    compass = f" ({layout.fence_turn(opening=opening)})" if layout is not None else ""
    return f": its end far from the blade {end}{compass}"
