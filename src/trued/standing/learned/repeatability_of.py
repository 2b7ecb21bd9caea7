"""How far a procedure repeats from run to run with one fixture: itself something that the shop learns.

It begins with what the check takes for usual (few degrees of freedom) and learns from every run that was repeated
with nothing touched, and from every run that was foretold closely though something was turned before it. While no
untouched pair is on record nothing is proven in.
"""

from __future__ import annotations

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.standing.history.history import History
from trued.standing.learned.learned_state import fold_history


def repeatability_of(
    history: History, check: str, fixture: str, start: EstimatedSd | None = None
) -> EstimatedSd | None:
    """What is known of the scatter between runs of `check` with `fixture`, in the unit of the feature it teaches.

    start: what the check takes for usual; without it, what the first run on record took. None when the check has no
    scatter between runs, or nothing is on record and no start is given.
    """
    starts = {check: start} if start is not None else {}
    return fold_history(history, starts).scatter(check, fixture)
