"""What to do next about a feature, and when to leave it alone.

Leave it when it is proven in, when the gain to be expected of a move is below one settling, or when the move is
smaller than a hand can make. One run may prove out and lead to a move, but the run that would prove in is repeated
with nothing touched while this shop holds no untouched pair of that procedure.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from trued.measure.decision import Decision
from trued.shop.amount import FEELER_MM, amount_said, radius_mm
from trued.shop.feature import Feature, named
from trued.shop.follow import Followed
from trued.shop.response import ORDINARY, Branch
from trued.shop.shop import Shop
from trued.shop.standing import Do, Next
from trued.shop.words import SledLayout

SURE_OF_HYPOTHESIS = 0.8
SURPRISE = 2.5  # standard deviations; beyond it a run is repeated before it is believed
LIKELY_IN = 0.5
MOST_RUNS = 3  # untouched; when these have not decided it lies at its limit, and a move is cheaper than more of them
NOTICED = 0.02  # part of a move; less held back is not worth a sentence


@dataclass(frozen=True, slots=True)
class Case:
    """What the advice about one feature rests on."""

    feature: str
    known: Feature
    decision: Decision | None
    chance_in: float | None
    pair_seen: bool
    touched: tuple[str, ...]
    moved: bool
    shop: Shop | None

    @property
    def first(self) -> Next | None:
        """What comes before any judging: a run after something happened, or after a move."""
        if self.touched:
            return self.measure("Run {check} before you rely on it.", f"Since it was found: {'; '.join(self.touched)}.")
        if self.moved:
            return self.measure("Run {check} to see what the move did.", "It was turned and has not been found since.")
        return None

    def measure(self, text: str, why: str) -> Next:
        """To run the check that teaches the feature."""
        check = self.known.check
        minutes = f"about {self.known.minutes:.0f} minutes"
        return Next(Do.MEASURE, f"{text.format(check=check)} It takes {minutes}.", why, check=check)

    def said(self, amount: float) -> str:
        """An amount of this feature in words."""
        return amount_said(amount, self.known.unit, self.feature, self.shop)


PROVEN = Next(Do.LEAVE, "Leave it.", "It is true, sure enough.")


def next_of_plain(case: Case, x: float) -> Next | None:
    """The next action for a feature without a filter; None where there is nothing to decide."""
    if (first := case.first) is not None:
        return first
    if case.decision is None:
        return None
    if case.decision is Decision.PROVEN_IN:
        return PROVEN
    if case.decision is Decision.NOT_PROVEN:
        return _again(case)
    if case.known.name in ("stop-offset", "stop-shift"):
        return _cursor(case, x)
    return Next(
        Do.LOOK,
        f"Mend it, then run {case.known.check} again.",
        f"It is out, sure enough ({case.said(x)}); the page of {case.known.check} says what to look at.",
        check=case.known.check,
    )


def _again(case: Case) -> Next:
    if not case.pair_seen:
        why = "One run cannot show how well this repeats here."
        return case.measure("Run {check} once more and touch nothing.", why)
    return case.measure("Run {check} once more and touch nothing.", "What is known cannot tell yet.")


def _cursor(case: Case, x: float) -> Next:
    """An offset is cured by what is set; the scale itself by its cursor, and the other way would double it."""
    long = x > 0.0
    size = case.said(x)
    come = "long" if long else "short"
    larger, less = ("larger", "less") if long else ("smaller", "more")
    text = (
        f"Set {size} {less} than wanted: the plan already does. To mend the scale, leave the stop where it is and "
        f"bring scale and cursor together anew until {size} {larger} is read than now."
    )
    direction = (case.known.directions or ("", ""))[0 if long else 1]
    why = f"Parts come out {size} {come}."
    return Next(Do.MOVE, text, why, direction, abs(x), case.known.check)


def next_of_followed(case: Case, followed: Followed) -> Next | None:
    """The next action for a feature that the filter follows; None where there is nothing to decide."""
    if (first := case.first) is not None:
        return first
    if case.decision is None or case.chance_in is None:
        return None
    if case.decision is Decision.PROVEN_IN:
        return PROVEN
    best = followed.response.likeliest
    if followed.response.blunder == "screw-not-touching":
        return _not_touching(case)
    if followed.surprise > SURPRISE and not followed.response.blunder and followed.runs == 1:
        return case.measure("Run {check} once more and touch nothing.", "The last run is not what was to be expected.")
    if case.decision is Decision.NOT_PROVEN and not case.pair_seen:
        return _again(case)
    if best.chance < SURE_OF_HYPOTHESIS or (best.hypothesis is not ORDINARY and not followed.response.blunder):
        return _unclear(case, followed)
    if (small := _too_small(case, best)) is not None:
        return small
    if case.decision is Decision.NOT_PROVEN and case.chance_in >= LIKELY_IN and followed.runs < MOST_RUNS:
        return _again(case)
    return _move(case, followed, best)


def _unclear(case: Case, followed: Followed) -> Next:
    """Measure once more; when that was done, turn the way that is best whatever a move does here, and never by more
    than what is out: that is a checking move, and can do little harm if it goes the other way.
    """
    if followed.runs < 2:
        return case.measure("Run {check} once more and touch nothing.", "It is not clear yet what a move does here.")
    best, out = followed.response.best_move, abs(followed.response.x)
    move = max(-out, min(out, best))
    why = "This move is there to see what moves do here: the last one did not arrive as it was turned."
    return _turn(case, move, why)


def _not_touching(case: Case) -> Next:
    return Next(
        Do.LOOK,
        "See that the screw touches the fence, and that nothing else holds it; loosen the lock before you turn.",
        "What was turned did not arrive.",
        check=case.known.check,
    )


def _too_small(case: Case, best: Branch) -> Next | None:
    """A move that is not worth making: its gain is below a settling, or no hand can make it."""
    actuator = case.known.actuator
    if actuator is None:
        return None
    move = best.belief.best_move
    before = math.sqrt(best.belief.expected_square())
    after = math.sqrt(best.belief.expected_square(move) + actuator.settling**2)
    radius = radius_mm(case.feature, case.shop) if case.known.unit == "rad" else None
    finest = actuator.finest if radius is None else FEELER_MM / radius
    if before - after < actuator.settling:
        return Next(Do.LEAVE, "Leave it.", "A move would gain less than what it settles by when it is locked.")
    if abs(move) < finest:
        why = f"The move would be {case.said(move)}, less than a hand can make."
        return Next(Do.LEAVE, "Leave it.", why)
    return None


def _move(case: Case, followed: Followed, best: Branch) -> Next:
    move = best.belief.best_move
    return _turn(case, move, _why(case, followed, best, move))


def _turn(case: Case, move: float, why: str) -> Next:
    directions = case.known.directions or ("", "")
    direction = directions[0] if move > 0.0 else directions[1]
    text = f"{direction.capitalize().replace('-', ' ')} by {case.said(move)}{_way(case, move)}."
    return Next(Do.MOVE, text, why, direction, abs(move), case.known.check)


def _why(case: Case, followed: Followed, best: Branch, move: float) -> str:
    full, g = abs(followed.response.x), best.belief.g
    u = math.sqrt(max(best.belief.gg, 0.0))
    out = (
        f"It is out by {case.said(full)}, sure enough."
        if case.decision is Decision.PROVEN_OUT
        else "It is too near its limit to tell."
    )
    if best.hypothesis is not ORDINARY:
        return (
            f"{out} The last move made it worse: the two ends were read the wrong way round, or the screw turns the "
            "other way here. Mark the fence end on the next strip before it is freed."
        )
    if not followed.any_move:
        sure = "It is out, sure enough." if case.decision is Decision.PROVEN_OUT else out
        return (
            f"{sure} The full move would be {case.said(full)}; {1.0 - abs(move) / full:.0%} of it is held back, "
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
