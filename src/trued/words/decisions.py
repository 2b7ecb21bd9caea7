"""A decision as a badge and as a sentence, and a chance in words: the one map between the code's words and a person's.

ISO 14253-1 proves conformity and non-conformity; what lies between is not known yet. Nothing is ever called safe.
"""

from __future__ import annotations

from enum import StrEnum

from trued.measure.decision import LEVEL, Conformity
from trued.standing.pooled.checked_before import ASSUMED
from trued.units.number_format import percent


class Badge(StrEnum):
    """What stands behind the name of a check, of a feature or of a part: in capitals in a first line."""

    IN = "In tolerance"
    OUT = "Out of tolerance"
    NOT_KNOWN = "Not known yet"
    BAD_RUN = "Bad run"
    RECHECK = "Recheck"
    MEASURED = "Measured"
    MOVED = "Moved, not measured"
    OUTLIER = "Outlier, not counted"
    NOT_CHECKED = "Not checked"
    ANSWER_FIRST = "Answer first"

    @property
    def shouted(self) -> str:
        """As a first line has it: `OUT OF TOLERANCE`."""
        return self.value.upper()


_BADGES = {
    Conformity.PROVEN_IN: Badge.IN,
    Conformity.PROVEN_OUT: Badge.OUT,
    Conformity.NOT_PROVEN: Badge.NOT_KNOWN,
    None: Badge.MEASURED,
}
NOT_READY = "Treat it as not ready."
"""Of a matter of safety that is not known: a safety item that is not proven counts as not ready."""


def badge_of(decision: Conformity | None) -> Badge:
    """The badge of a decision; without limits nothing is decided."""
    return _BADGES[decision]


def decided(decision: Conformity | None, side: str = "") -> str:
    """The sentence of a decision that is sure; "" for any other. `side`: the side on which it is out, in words."""
    if decision is Conformity.PROVEN_IN:
        return "At least 95% sure it is in tolerance."
    if decision is Conformity.PROVEN_OUT:
        return f"At least 95% sure it is out: {side}." if side else "At least 95% sure it is out."
    return ""


def likely_in(chance: float, scatter_source: str = "") -> str:
    """How likely it is in while that is not known yet: `77% likely in.`

    A high chance that rests on a repeatability which was not seen here proves nothing: no percent is told then.
    """
    if scatter_source != ASSUMED:
        return f"{percent(chance)} likely in."
    return "One run can't prove it." if chance >= LEVEL else f"{percent(chance)} likely in (repeatability assumed)."
