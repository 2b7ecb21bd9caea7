"""The verdict of one answer, the same for terminal, page and scripts: what it says, the one thing to do, what speaks
against the run, and what can hurt someone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from trued.errors import Question
from trued.measure.decision import Conformity
from trued.procedure import ONE_RUN, Check, Estimate, Finding, Flag, Severity
from trued.standing.feature import named
from trued.standing.feature import said as feature_said
from trued.standing.feature_status import ActionKind, NextAction
from trued.standing.learned.outlier_history import ever_aside
from trued.standing.owner import WORK
from trued.standing.unconfirmed_runs import APART
from trued.usecases.words import said
from trued.words.orders import again

if TYPE_CHECKING:
    from trued.standing.feature_status import FeatureStatus
    from trued.usecases.shop.shop_now import ShopNow


class Says(StrEnum):
    """What an answer comes to."""

    READ_AGAIN = "read-again"
    ASKS = "asks"
    OUT = "out"
    NOT_KNOWN = "not-known"
    IN = "in"
    MEASURED = "measured"


@dataclass(frozen=True, slots=True)
class Verdict:
    """says: what it comes to, and `text` in words. do: the one thing to do where that is to read it again, or to answer
    a question; "" else.

    why: what speaks against the run. dangers: what can hurt someone, said before anything else. decision: the worst
    among its features; None where there is nothing to decide. question: what only the person can tell: until it is
    answered nothing is ordered.
    """

    says: Says
    text: str
    do: str
    why: tuple[str, ...]
    dangers: tuple[str, ...]
    decision: Conformity | None
    question: Question | None = None

    @property
    def read_again(self) -> bool:
        """Nothing is ordered from this run, and it does not count yet."""
        return self.says is Says.READ_AGAIN


_SAYS = {
    Conformity.PROVEN_OUT: Says.OUT,
    Conformity.NOT_PROVEN: Says.NOT_KNOWN,
    Conformity.PROVEN_IN: Says.IN,
    None: Says.MEASURED,
}
READ_AGAIN, ANSWER_FIRST = "Read it again", "Answer first"


def verdict_of(check: Check, finding: Finding, standings: Sequence[FeatureStatus], *, waits: bool) -> Verdict:
    """Of one run. With a book all runs together decide; a run that waits to be confirmed decides nothing.

    waits: it does not count yet (`counted`); without a book that is so of every run that is in doubt.
    """
    decided = worst(s.decision for s in standings) if standings and not waits else worst(_decisions(finding))
    why = tuple(seen.text for seen in finding.doubts)
    asked = next((s.asked for s in standings if s.asked is not None), None)
    if asked is not None and all(seen.code == APART[0] for seen in finding.doubts):
        return Verdict(Says.ASKS, ANSWER_FIRST, asked.text, (), _dangers(finding, standings), decided, asked)
    if not waits:
        return Verdict(_SAYS[decided], said(decided), "", why, _dangers(finding, standings), decided)
    do = f"{READ_AGAIN}: {again(check.id, check.minutes, same_setup=True)}."
    closed = tuple(
        f"Until then no cut that rests on it: {feature_said(e.feature)}."
        for e in finding.estimates
        if e.safety and e.decision is Conformity.PROVEN_OUT
    )
    return Verdict(Says.READ_AGAIN, READ_AGAIN, do, why, (*_dangers(finding, standings), *closed), decided)


def worst(decisions: Iterable[Conformity | None]) -> Conformity | None:
    """The worst of several; None where there is nothing to decide."""
    found = set(decisions)
    order = (Conformity.PROVEN_OUT, Conformity.NOT_PROVEN, Conformity.PROVEN_IN)
    return next((decision for decision in order if decision in found), None)


def _decisions(finding: Finding) -> Iterable[Conformity | None]:
    return (e.decision for e in finding.estimates)


def _dangers(finding: Finding, standings: Sequence[FeatureStatus]) -> tuple[str, ...]:
    own = tuple(seen.text for seen in finding.dangers)
    return tuple(dict.fromkeys((*own, *(text for s in standings for text in s.dangers))))


def counted(finding: Finding, run: str, now: ShopNow, full: Mapping[str, str]) -> tuple[Finding, bool]:
    """The finding as it counts in the book, and whether the run waits to be confirmed: then it orders nothing."""
    states = [state for name in full.values() if (state := now.known.features.get(name)) is not None]
    held = now.known.held.get(run, ())
    aside = any(run in now.set_aside(name) for name in full.values())
    entered = any(state.last.run == run for state in states)
    if not held and any(s.asked is not None and s.asked.about == run for s in now.standings()):
        return withheld(finding), False
    if not held and not aside and (entered or not finding.doubts or _confirmed_later(run, now, full)):
        return finding, False
    if aside or any(APART in row.doubts for row in held):
        finding = replace(finding, seen=(*finding.seen, Flag(APART[0], Severity.DOUBT, APART[1])))
    return withheld(finding), True


def _confirmed_later(run: str, now: ShopNow, full: Mapping[str, str]) -> bool:
    """Whether an older run that was in doubt has come to count; what is of one piece of work never does."""
    lasting = next((name for name in full.values() if named(name).thing != WORK), None)
    return lasting is not None and run not in ever_aside(now.history, lasting, now.known.starts)


def ordered(finding: Finding, standings: Sequence[FeatureStatus], full: Mapping[str, str]) -> Finding:
    """Of what this run by itself would turn only what all runs together order as well; where they turn something at
    once, nothing says beside it to repeat the run before that."""
    known = {s.feature: s.next for s in standings}
    kept = tuple(move for move in finding.moves if _by_hand(known.get(full.get(move.feature, ""), _NOTHING_KEPT)))
    turns = any(_by_hand(step) for step in known.values())
    seen = tuple(one for one in finding.seen if not (turns and one.code == ONE_RUN.code))
    return replace(finding, moves=kept, seen=seen)


_NOTHING_KEPT = NextAction(ActionKind.MOVE, "", "")
"""Of a feature of which nothing is kept, as of one piece of work, the run itself decides."""


def _by_hand(step: NextAction | None) -> bool:
    return step is not None and (step.do is ActionKind.MOVE or step.mends)


def withheld(finding: Finding) -> Finding:
    """No move and no proof; what can hurt someone stays out."""
    return replace(finding, estimates=tuple(map(_not_proven, finding.estimates)), moves=())


def _not_proven(estimate: Estimate) -> Estimate:
    out = estimate.decision is Conformity.PROVEN_OUT
    if estimate.decision is None or (out and estimate.safety):
        return estimate
    return replace(estimate, decision=Conformity.NOT_PROVEN, side=None, runs_to_decide=None)
