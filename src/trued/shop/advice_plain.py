"""What to do next about a feature that no filter follows."""

from __future__ import annotations

from trued.measure.decision import Decision
from trued.shop.case import CANNOT_TELL, ONE_RUN, PROVEN, Case
from trued.shop.standing import Do, Next


def next_of_plain(case: Case, x: float) -> Next | None:
    """The next action for a feature without a filter; None where there is nothing to decide."""
    if (first := case.first) is not None:
        return first
    if case.decision is None:
        return None
    if case.decision is Decision.PROVEN_IN:
        return PROVEN
    if case.decision is Decision.NOT_PROVEN:
        return case.again(CANNOT_TELL if case.pair_seen else ONE_RUN)
    if case.known.name in ("stop-offset", "stop-shift"):
        return _cursor(case, x)
    return Next(
        Do.LOOK,
        f"Mend it, then run {case.known.check} again.",
        f"It is out, sure enough: {case.said(x)}.",
        check=case.known.check,
        mends=True,
    )


def _cursor(case: Case, x: float) -> Next:
    """An offset is cured by what is set; the scale itself by its cursor, and the other way would double it."""
    long = x > 0.0
    size = case.said(x)
    come = "long" if long else "short"
    more, less = ("less", "more") if long else ("more", "less")
    # The plan goes by what stop-scale found; what stop-repeat saw at one setting it knows nothing of.
    now = "the plan already does" if case.known.name == "stop-offset" else "at the setting that was tested"
    text = (
        f"Set {size} {more} than wanted: {now}. To mend the scale itself, leave the stop where it is and shift cursor "
        f"or scale until it reads {size} {less} than now."
    )
    direction = (case.known.directions or ("", ""))[0 if long else 1]
    why = f"Parts come out {size} {come}."
    return Next(Do.MOVE, text, why, direction, abs(x), case.known.check)
