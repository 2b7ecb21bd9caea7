"""The cuts of a kept plan, as the person at the saw sees them: with a number, behind a hold, or closed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from trued.plan.document import PlanDocument, PlanTicket
from trued.plan.stations.station import Station
from trued.store.rows import MarkRow
from trued.usecases.plan.words import number_words, true_words
from trued.usecases.saved.closed_since import Closing


@dataclass(frozen=True, slots=True)
class KeptTicket:
    """One cut; number counts from 1.

    said, beside: the number to set, or where to mark a line, "" where there is neither, and what stands beside it.
    true:   what true size it gives. mark: what became of it; None while it is open.
    hold:   what must be looked at or done before the number shows, the gravest first.
    closed: why the cut is not made as things are; it has no number then. after: numbers of the open cuts before it.
    """

    cut: PlanTicket
    number: int
    said: str
    beside: str
    true: str
    mark: MarkRow | None
    hold: tuple[str, ...] = ()
    closed: str = ""
    after: tuple[int, ...] = ()

    @property
    def id(self) -> str:
        """The id of the cut."""
        return self.cut.id

    @property
    def done(self) -> bool:
        """Whether it is cut, as it should be."""
        return self.mark is not None and self.mark.what == "done"

    @property
    def wrong(self) -> bool:
        """Whether it was cut, and wrong."""
        return self.mark is not None and self.mark.what == "wrong"

    @property
    def skipped(self) -> str:
        """Why it was skipped; "" where it was not."""
        return (self.mark.reason if self.mark is not None else None) or ""

    @property
    def may_be_done(self) -> bool:
        """Whether it can be marked done now: nothing closes it, and the cuts before it are done."""
        return not self.closed and not self.after

    @property
    def offered(self) -> bool:
        """Whether it is a cut to make next."""
        return self.mark is None and self.may_be_done

    @property
    def group(self) -> str:
        """What is set for it, for as long as nothing is moved: an answer to its hold stands as long."""
        return f"{self.cut.station} {self.cut.setting or self.cut.id}"


def tickets_of(plan: PlanDocument, marks: Mapping[str, MarkRow], closing: Closing) -> Iterator[KeptTicket]:
    """The cuts in their order. marks: of those that are no longer open. closing: what has closed a cut since.

    What was never checked is told on the first cut that it touches; until that cut is done it stands before every later
    cut on the saw too, so that no number is had by going round it.
    """
    place = {cut.id: number for number, cut in enumerate(plan.order, 1)}
    done = {id for id, mark in marks.items() if mark.what == "done"}
    unseen: tuple[str, ...] = ()
    for number, cut in enumerate(plan.order, 1):
        closed = "" if cut.id in done else _waits(cut) or closing(cut)
        said, beside = ("", "") if closed else number_words(cut)
        first = tuple(dict.fromkeys((*unseen, *cut.unchecked))) if cut.station in _ON_SAW else cut.unchecked
        if cut.id not in done and cut.station in _ON_SAW:
            unseen = first
        yield KeptTicket(
            cut=cut,
            number=number,
            said=said,
            beside=beside,
            true="" if closed else true_words(cut, plan.unit),
            mark=marks.get(cut.id),
            hold=(*first, *cut.before),
            closed=closed,
            after=tuple(place[id] for id in cut.after if id not in done),
        )


_ON_SAW = (Station.SLED, Station.RIP)


def _waits(cut: PlanTicket) -> str:
    return f"It waits for a fact. {cut.waits}" if cut.waits else ""
