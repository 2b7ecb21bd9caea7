"""What is asked about a move before it is kept: one unlike what was advised, one like the last with no run between."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from trued.advice.order_words import order_said
from trued.advice.preposterior import target_of
from trued.errors import Question
from trued.standing.amounts.amount import ordered_said
from trued.standing.feature_status import ActionKind, FeatureStatus, NextAction
from trued.standing.filtered.slip import LIKE
from trued.usecases.changes.adjustments import to_type
from trued.usecases.questions.asking import Settled, answer_of
from trued.usecases.shop.shop_now import ShopNow

if TYPE_CHECKING:
    from trued.store.rows import MoveRow

UNLIKE, TYPED, TOLD = "move-unlike-told", "typed", "told"
AGAIN, TWICE, ONCE = "move-again", "twice", "once"
FAR = 3.0  # times more or less than was advised: half and double are a person's choice, common practice
SPREAD = 2.0  # standard uncertainties that what is wrong may be more than is believed


@dataclass(frozen=True, slots=True)
class Odd:
    """A move about to be kept, with what stands of its feature at that moment; `last` is the move before it, where no
    run came between."""

    move: MoveRow
    now: ShopNow
    standing: FeatureStatus | None
    last: MoveRow | None

    @classmethod
    def of(cls, move: MoveRow, now: ShopNow, moves: Sequence[MoveRow]) -> Odd:
        """moves: those of the feature, in order."""
        standing = next((s for s in now.standings() if s.feature == move.feature), None)
        before = [one for one in moves if one.at <= move.at]
        state = now.known.features.get(move.feature)
        last = before[-1] if before and (state is None or before[-1].at >= state.last.at) else None
        return cls(move, now, standing, last)

    @property
    def advised(self) -> NextAction | None:
        """The move that was told; None where none was."""
        step = self.standing.next if self.standing is not None else None
        return step if step is not None and step.do is ActionKind.MOVE and step.amount and step.direction else None

    def questions(self) -> Iterator[Question]:
        """None, one, or both."""
        last, move = self.last, self.move
        if (
            last is not None
            and last.direction == move.direction
            and abs(last.amount - move.amount) <= LIKE * move.amount
        ):
            yield Question(
                AGAIN,
                "",
                f"{_first_big(self._said(move.direction, move.amount))}: that was recorded already, and nothing was "
                "measured since. Was it made once or twice?",
                ((ONCE, "Once: keep the one that is recorded"), (TWICE, "Twice: record it again")),
            )
            return
        step = self.advised
        if step is not None and step.amount is not None:
            if step.direction != move.direction or not step.amount / FAR <= move.amount <= step.amount * FAR:
                yield self._unlike(step, step.amount)
        elif self._beyond():
            typed = self._said(move.direction, move.amount)
            than = (
                "it was found to be out" if self.last is None else "the move before it, and nothing was measured since"
            )
            text = f"That is far more than {than}. Did you {typed}?"
            yield Question(UNLIKE, "", text, ((TYPED, f"Yes: {typed}, as typed"),))

    def kept(self, settled: Sequence[Settled]) -> MoveRow:
        """What is to be kept by the answers: the move as typed, as it was advised, or the one that is there already."""
        if answer_of(settled, AGAIN) == ONCE and self.last is not None:
            return self.last
        step = self.advised
        if answer_of(settled, UNLIKE) != TOLD or step is None or step.amount is None:
            return self.move
        typed = to_type(step.amount, self.move.feature, self.move.unit, self.now.shop)
        return replace(self.move, direction=step.direction, amount=step.amount, typed=typed)

    def _unlike(self, step: NextAction, amount: float) -> Question:
        told, typed = self._said(step.direction, amount), self._said(self.move.direction, self.move.amount)
        text = f"You were told to {told}. You typed: {typed}. Which was it?"
        return Question(UNLIKE, "", text, ((TOLD, f"As told: {told}"), (TYPED, f"As typed: {typed}")))

    def _beyond(self) -> bool:
        """More than what is wrong, as far as it is known, or than the move before it where no run came between."""
        s = self.standing
        if self.last is not None:
            return self.move.amount > FAR * self.last.amount
        if s is None or s.stale or not s.believed or s.limits is None:
            return False
        return self.move.amount > FAR * (abs(s.x.value - target_of(s.limits)) + SPREAD * s.x.u)

    def _said(self, direction: str, amount: float) -> str:
        ways = tuple(self._directions())
        order = order_said(self.move.feature, direction, (ways[0], ways[1]) if len(ways) == 2 else None)
        by = ordered_said(amount, self.move.unit, self.move.feature, self.now.shop).partition(", which is")[0]
        return f"{order} by {by}"

    def _directions(self) -> tuple[str, ...]:
        from trued.standing.feature import feature_of

        return feature_of(self.move.feature).directions or ()


def _first_big(text: str) -> str:
    return text[:1].upper() + text[1:]
