"""What to do next about a length stop: one cursor, so one order, and only where moving it pays.

The plan takes what is known of the scale off every setting, so a stop is set right whether its cursor was moved or not.
"""

from __future__ import annotations

import math

from trued.advice.decision_case import CANNOT_TELL, PROVEN, DecisionCase
from trued.measure.decision import Conformity, ToleranceLimits, conformance_probability
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.feature import named
from trued.standing.feature_status import ActionKind, NextAction
from trued.standing.stop_history import OFFSET, SETTING, StopNow

SHIFTED = "The last run lies elsewhere. Did scale, cursor, blade or facing change? Record that first."
PAYS = 0.5  # the chance to be within tolerance afterwards: a move that likelier than not leaves it out is not ordered
TOO_FEW = "Too few settings yet."
FIRST_PART = "measure the first part where it matters"


def next_of_stop(case: DecisionCase, x: UncertainValue, stop: StopNow) -> NextAction | None:
    """The next action for offset, slope or setting of a stop; None where there is nothing to decide."""
    if (first := case.first) is not None:
        return first
    if stop.shifted and case.decision is not None:
        return case.measure("Run {check} again, same setup.", SHIFTED)
    return _next(case, x, stop)


def _next(case: DecisionCase, x: UncertainValue, stop: StopNow) -> NextAction | None:
    if case.decision is None:
        return None
    if case.decision is Conformity.PROVEN_IN:
        return PROVEN
    bare = named(case.feature).feature
    if case.decision is Conformity.NOT_PROVEN:
        return _more(case, stop, setting=bare == SETTING)
    if bare == OFFSET:
        return _cursor(case, x, stop)
    why = f"Out by {case.said(x.value)}."
    return NextAction(ActionKind.LOOK, "Fix it.", why, check=case.known.check, mends=True)


def _more(case: DecisionCase, stop: StopNow, *, setting: bool) -> NextAction:
    """More runs only while they would show more than one setting hides."""
    if not setting and not stop.seen:
        return case.measure("Run {check}. Set the stop again for each part.", TOO_FEW)
    best = stop.at_best.get(named(case.feature).angle, math.inf)
    if not setting and best >= stop.one_setting_mm:
        return case.measure("Run {check} again. Set the stop again for each part.", CANNOT_TELL)
    text = f"Leave it. The plan subtracts what is known. For more, {FIRST_PART}."
    why = f"One setting of the stop varies by {case.said(stop.one_setting_mm)}, more than the scale is unknown."
    if setting:
        text = f"Leave it. {FIRST_PART[:1].upper()}{FIRST_PART[1:]}."
        why = "More settings would tell. The plan uses what is known."
    return NextAction(ActionKind.LEAVE, text, why)


def _cursor(case: DecisionCase, x: UncertainValue, stop: StopNow) -> NextAction:
    """The cursor of the scale, by the square cut alone; at an angle the plan sets by what is known."""
    long, size = x.value > 0.0, case.said(x.value)
    why = f"Parts are {size} {'long' if long else 'short'}."
    square = named(case.feature).angle in ("", "0")
    if not (square and moving_pays(stop, named(case.feature).angle, case.limits)):
        reason = "a move would likelier leave it out than in" if square else "it serves every angle"
        return NextAction(
            ActionKind.LEAVE, f"Leave the cursor: {reason}. The plan subtracts {size} at every setting.", why
        )
    text = (
        f"Keep the stop, move the cursor {'up' if long else 'down'} by {size}. "
        "Until then the plan subtracts it for you. "
        "Do one, not both."
    )
    direction = (case.known.directions or ("", ""))[0 if long else 1]
    return NextAction(ActionKind.MOVE, text, why, direction, abs(x.value), case.known.check)


def moving_pays(stop: StopNow, angle: str, limits: ToleranceLimits | None) -> bool:
    """Whether parts would then likelier than not be right where the scale is known best: what is not known of it stays,
    and the eye adds its own. A cursor is brought to a reading as a stop is set to one.
    """
    least, anew = stop.at_best.get(angle), stop.setting
    if limits is None or least is None:
        return limits is None
    landing = ErrorSource("stop:landing", "setting the cursor by eye", math.hypot(least, anew.s), anew.dof)
    return conformance_probability(UncertainValue.of(0.0, landing), limits) > PAYS
