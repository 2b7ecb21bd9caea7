"""What to do next about a feature that no filter follows."""

from __future__ import annotations

from trued.advice.decision_case import CANNOT_TELL, ONE_RUN, PROVEN, DecisionCase
from trued.measure.decision import Conformity
from trued.standing.feature_status import ActionKind, NextAction


def next_of_plain(case: DecisionCase, x: float) -> NextAction | None:
    """The next action for a feature without a filter; None where there is nothing to decide."""
    if (first := case.first) is not None:
        return first
    if case.decision is None:
        return None
    if case.decision is Conformity.PROVEN_IN:
        return PROVEN
    if case.decision is Conformity.NOT_PROVEN:
        return case.again(CANNOT_TELL if case.pair_seen else ONE_RUN)
    return NextAction(
        ActionKind.LOOK,
        "Fix it.",
        f"Out by {case.said(x)}.",
        check=case.known.check,
        mends=True,
    )
