"""The cuts of a kept plan, as the person at the saw sees them."""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from trued.plan.document import PlanDocument, PlanTicket
from trued.usecases.plan_words import number_words, true_words


@dataclass(frozen=True, slots=True)
class KeptTicket:
    """One cut and whether it is done; number counts from 1. said, beside: the number to set, or where to mark a line,
    "" where there is neither, and what stands beside it. true: what true size it gives."""

    cut: PlanTicket
    number: int
    said: str
    beside: str
    true: str
    done: bool

    @property
    def id(self) -> str:
        """The id of the cut."""
        return self.cut.id


def tickets_of(plan: PlanDocument, done: Collection[str]) -> Iterator[KeptTicket]:
    """The cuts in their order; `done`: ids of those that are done."""
    for number, cut in enumerate(plan.order, 1):
        said, beside = number_words(cut)
        yield KeptTicket(cut, number, said, beside, true_words(cut, plan.unit), cut.id in done)
