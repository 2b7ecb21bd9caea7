"""What came of a feature after the last finding that counts, and what it may decide."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from trued.measure.decision import Chances, Conformity, Side, ToleranceLimits, judge
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import UncertainValue
from trued.measure.sd_interval import spread_chances
from trued.standing.feature import Feature
from trued.standing.history.history import Result
from trued.standing.outlier import Outlier


@dataclass(frozen=True, slots=True)
class Newest:
    """What came after the last finding that counts: runs that wait to be confirmed, or one that lies too far from it.

    dangers: what of it, and of the last that counts, can hurt someone. closed: beyond which limit one that waits lies.
    """

    waiting: tuple[Result, ...]
    aside: Outlier | None
    dangers: tuple[str, ...]
    closed: Side | None
    safety: bool

    @classmethod
    def of(
        cls,
        last: Result | None,
        aside: Sequence[Outlier],
        held: Sequence[tuple[Result, ToleranceLimits | None]],
        known: Feature | None,
        *,
        fresh: bool,
    ) -> Newest:
        """held: what of it waits to be confirmed, each with its tolerance; aside: what lies too far from `last`; fresh:
        nothing was done about it since `last`."""
        later = [(row, limits) for row, limits in held if last is None or row.at > last.at]
        later.sort(key=lambda one: (one[0].at, one[0].run))
        sides = (chances_of(row.x, limits, known).beyond() for row, limits in later if limits is not None)
        counted = (*((last,) if last is not None and fresh else ()), *(row for row, _ in later))
        return cls(
            waiting=tuple(row for row, _ in later),
            aside=aside[-1] if aside and last is not None and aside[-1].at > last.at else None,
            dangers=tuple(dict.fromkeys(text for row in counted for _, text in row.dangers)),
            closed=next((side for side in sides if side is not None), None),
            safety=known is not None and known.safety,
        )

    @property
    def apart(self) -> bool:
        return self.aside is not None

    @property
    def run(self) -> str:
        """The run that is to be read again."""
        later = self.waiting[-1:] if self.waiting else ()
        return later[0].run if later else self.aside.run if self.aside is not None else ""

    @property
    def why(self) -> str:
        """What its own readings show against it."""
        return " ".join(text for _, text in self.waiting[-1].doubts) if self.waiting else ""

    def decided(
        self, chances: Chances | None, *, may_prove_in: bool, fresh: bool
    ) -> tuple[Conformity | None, Side | None]:
        """The decision with its side. What was touched since, or is in dispute, proves nothing.

        Where someone can get hurt a run that waits may put a thing out of use, and never back: what was out stays out.
        """
        if chances is None:
            return None, None
        settled = fresh and not self.waiting and not self.apart
        decision = judge(chances, may_prove_in=may_prove_in) if fresh else Conformity.NOT_PROVEN
        if settled and not self.dangers:
            return decision, chances.beyond() if decision is Conformity.PROVEN_OUT else None
        if decision is Conformity.PROVEN_OUT and (settled or self.safety):
            return decision, chances.beyond()
        if self.safety and (self.closed is not None or self.dangers):
            return Conformity.PROVEN_OUT, self.closed
        return Conformity.NOT_PROVEN, None


def chances_of(x: UncertainValue, limits: ToleranceLimits, known: Feature | None) -> Chances:
    """Chances below its limits, inside and above; of a scatter by chi-square."""
    if known is not None and known.spread and x.value > 0.0 and math.isfinite(x.dof):
        return spread_chances(EstimatedSd(x.value, x.dof), limits)
    return Chances.of(x, limits)
