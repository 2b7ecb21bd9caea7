"""Parts that were to share one setting and do not, with the cut that stands against it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from trued.job.expression.tree import Side
from trued.job.job import Job
from trued.plan.layout.cut_tree import Used
from trued.plan.order.cut_groups import setting_id
from trued.plan.order.order import Order, ScheduledCut
from trued.plan.order.sizing_cuts import SizingCut, makers
from trued.plan.stations.station import Station
from trued.plan.tickets.ticket import ticket_ids


@dataclass(frozen=True, slots=True)
class SplitSetting:
    """Copies of a word of `together` that get one and the same size at different settings, and why."""

    word: str
    side: Side
    text: str


def parted(job: Job, used: Sequence[Used], order: Order) -> tuple[SplitSetting, ...]:
    """Every group of mates of one size that is not cut at one setting, in the order of the job."""
    done = {id(one.task.cut): one for one in order.cuts}
    number = ticket_ids(order)
    return tuple(_parted(list(_families(job, used, done)), number, order))


_Family = tuple[str, Side, list[tuple[SizingCut, ScheduledCut]]]


def _families(job: Job, used: Sequence[Used], done: Mapping[int, ScheduledCut]) -> Iterator[_Family]:
    """Mates of one size, each with the cut that gives it that size."""
    found: dict[tuple[str, Side, int], list[tuple[SizingCut, ScheduledCut]]] = {}
    words = {part.id: part.together for part in job.parts if part.together}
    for maker in makers(used):
        word = words.get(maker.part.want)
        for side, size in ((Side.LENGTH, maker.part.length), (Side.WIDTH, maker.part.width)):
            cut = maker.cut(side)
            if word and cut is not None and id(cut) in done:
                found.setdefault((word, side, size), []).append((maker, done[id(cut)]))
    yield from ((word, side, mates) for (word, side, _), mates in found.items())


def _parted(families: Sequence[_Family], number: Mapping[int, str], order: Order) -> Iterator[SplitSetting]:
    for word, side, mates in families:
        cuts = list({one.index: one for _, one in mates}.values())
        settings = list(dict.fromkeys(setting_id(one) for one in cuts))
        if len(settings) > 1:
            first, other = cuts[0], next(one for one in cuts if setting_id(one) != setting_id(cuts[0]))
            names = [_names(mates, one) for one in (first, other)]
            text = (
                f"{names[0]} gets its {side} at {number[first.index]} and {names[1]} at {number[other.index]}: "
                f"{_why(first, other, number, order)}"
            )
            yield SplitSetting(word, side, text)


def _names(mates: Sequence[tuple[SizingCut, ScheduledCut]], one: ScheduledCut) -> str:
    maker = next(maker for maker, done in mates if setting_id(done) == setting_id(one))
    return f"{maker.part.want}@{maker.part.copy}"


def _why(first: ScheduledCut, other: ScheduledCut, number: Mapping[int, str], order: Order) -> str:
    """The cut that stands against one setting."""
    stations = first.task.key[0], other.task.key[0]
    for one, station in zip((first, other), stations, strict=True):
        if station in (Station.FLOOR, Station.HAND):
            return (
                f"{number[one.index]} is made with the {station}, where no stop holds them alike. "
                "Clamp the mates together and cut them at once where that can be done."
            )
    if stations[0] is not stations[1]:
        return f"one is cut at the {stations[0]}, the other on the {stations[1]}."
    between = _between(first, other, order)
    if between is None:
        return "one setting for both would cost more settings elsewhere."
    return f"{number[between.index]} needs another setting of the {stations[0]} first, and frees the second of them."


def _between(first: ScheduledCut, other: ScheduledCut, order: Order) -> ScheduledCut | None:
    """The cut that the later one waits for, made at another setting of the same station."""
    place = {done.index: n for n, done in enumerate(order.cuts)}
    early, late = sorted((first, other), key=lambda done: place[done.index])
    by_index = {done.index: done for done in order.cuts}
    here = by_index.get(late.task.after) if late.task.after is not None else None
    while here is not None:
        if here.task.key[0] is early.task.key[0] and here.setting != early.setting and here.setting:
            return here
        here = by_index.get(here.task.after) if here.task.after is not None else None
    return None
