"""What is asked when a slip explains a run best, in shop words: the likeliest first, each answer with its mend."""

from __future__ import annotations

from collections.abc import Iterator

from trued.advice.decision_case import DecisionCase as Advised
from trued.errors import Question
from trued.standing.filtered.filtered_feature import FilteredFeature
from trued.standing.filtered.slip import Arm, Case, Slip, by_slip, to_ask, weigh

CODE = "slip"
ALL_RIGHT = "right"
FORGOT, ONCE, TENTH, TENFOLD, OTHER_WAY = "forgot", "once", "tenth", "tenfold", "other-way"
ENDS, ENDS_BEFORE, STILL, SAME = "ends", "ends-before", "still", "same"
WORDS = (FORGOT, ONCE, TENTH, TENFOLD, OTHER_WAY, ENDS, ENDS_BEFORE, STILL, SAME)
_WORD = {
    (Slip.FORGOTTEN, ""): FORGOT,
    (Slip.TWICE, ""): ONCE,
    (Slip.DECIMAL, "tenth"): TENTH,
    (Slip.DECIMAL, "tenfold"): TENFOLD,
    (Slip.WAY, "turned"): OTHER_WAY,
    (Slip.WAY, "ends"): ENDS,
    (Slip.WAY, "ends-before"): ENDS_BEFORE,
    (Slip.STILL, ""): STILL,
    (Slip.SAME, ""): SAME,
}
WORTH_ASKING = 0.005
"""Chance under which an answer is not offered: all is right is always, and so is what is asked about."""


def slip_question(track: FilteredFeature, case: Advised) -> Question | None:
    """The question about the last run of a feature; None where nothing is held, or no slip explains it."""
    arm = track.arm
    if not track.held or arm is None:
        return None
    cases = weigh(arm)
    first = to_ask(cases)
    if first is None:
        return None
    return Question(CODE, arm.run, _asked(first, cases, case), tuple(_choices(first, cases, case)))


def slip_of(track: FilteredFeature) -> Slip | None:
    """The slip that is asked about first."""
    return to_ask(weigh(track.arm)) if track.held and track.arm is not None else None


def mend_of(arm: Arm, word: str) -> Case | None:
    """The case that an answer stands for; None where the arm has none such."""
    return next((one for one in weigh(arm) if _WORD.get((one.slip, one.detail)) == word), None)


def _choices(first: Slip, cases: tuple[Case, ...], case: Advised) -> Iterator[tuple[str, str]]:
    told = set[str]()
    order = [first, *(kind for kind in by_slip(cases) if kind is not first)]
    for kind in order:
        for one in cases:
            word = _WORD.get((one.slip, one.detail), "")
            worth = one.chance >= WORTH_ASKING or (kind is first and not told)
            if one.slip is kind and word and word not in told and worth:
                told.add(word)
                yield word, _means(word, one, case)
    yield ALL_RIGHT, "Nothing was mixed up: count it"


def _asked(first: Slip, cases: tuple[Case, ...], case: Advised) -> str:
    one = next(one for one in cases if one.slip is first)
    if first is Slip.FORGOTTEN:
        return f"Did you {case.order(one.u)} by {_amount(one.u, case)} and not record it?"
    if first is Slip.TWICE:
        return "Was that move made once and recorded twice?"
    if first is Slip.DECIMAL:
        return f"Was the move really {_amount(one.u, case)}? The recorded one is ten times off."
    if first is Slip.WAY:
        if all(one.detail != "turned" for one in cases):  # nothing was recorded as turned
            return "Were the two ends of a strip swapped?"
        return "Moved the other way, or two ends swapped?"
    if first is Slip.STILL:
        return "Did the screw touch, and was the lock loose? The move did nothing."
    return "Is this a new cut, or the same strip read again?"


def _means(word: str, one: Case, case: Advised) -> str:
    return {
        FORGOT: f"I moved it. Record: {case.order(one.u)} by {_amount(one.u, case)}, before this run",
        ONCE: "Made once: undo the second record",
        TENTH: "A tenth of that: correct the move",
        TENFOLD: "Ten times that: correct the move",
        OTHER_WAY: "The other way: correct the move",
        ENDS: "The ends of this strip were swapped: swap them back",
        ENDS_BEFORE: "The ends of the strip before were swapped: swap them back",
        STILL: "The screw did not touch, or the lock held: undo the move",
        SAME: "Same strip, read again: count it as one run",
    }[word]


def _amount(u: float, case: Advised) -> str:
    return case.ordered(abs(u)).partition(", which is")[0]
