"""How cheap a layout could be at best: scales that weigh parts against stock, and the cheapest stock that passes them.

A scale gives every part a weight and every stock piece a capacity that no way of cutting it can exceed. If the parts
weigh more than some pieces can hold, those pieces are not enough: that is certain, and anyone can add it up. Going
through the stock in order of cost, the first choice of pieces that no scale excludes is a lower bound on the cost.

The kerf is folded in: each part is one kerf longer and wider, each usable rectangle too, which turns cutting with a
kerf into cutting without, exactly. Defects are taken as good wood, so the bound stays a bound.
"""

import heapq
from collections.abc import Iterator
from dataclasses import dataclass

from trued.plan.bounds.boards import board_scales
from trued.plan.bounds.scales import Weighing, area_scales, sheet_scales
from trued.plan.layout.task import Task

MOST_CHOICES = 20_000
"""Choices of stock that are gone through; after that the cost reached so far stands as the bound."""


@dataclass(frozen=True, slots=True)
class Floor:
    """The lower bound of a task: its cost, and the scale that excludes the last cheaper choice of stock."""

    cost: int
    scale: Weighing | None


def weighings(task: Task) -> tuple[Weighing, ...]:
    """Every scale that is tried on a task."""
    scales = [*area_scales(task), *board_scales(task)]
    return (*scales, *sheet_scales(task))


def too_much(task: Task, scales: tuple[Weighing, ...]) -> Weighing | None:
    """The first scale on which the parts outweigh all the stock at hand; None when all pass."""
    every = tuple(task.most(stock) for stock in range(len(task.stocks)))
    return next((scale for scale in scales if not scale.passes(every)), None)


def choices(task: Task, scales: tuple[Weighing, ...]) -> Iterator[tuple[int, tuple[int, ...], Weighing | None]]:
    """Choices of stock in order of cost: cost, how many of each, and the scale that excludes it (None: none does).

    Pieces that cost nothing are in every choice: more wood never makes a layout impossible.
    """
    kinds = len(task.stocks)
    priced = [stock for stock in range(kinds) if task.costs[stock]]
    start = tuple(0 if task.costs[stock] else task.most(stock) for stock in range(kinds))
    waiting: list[tuple[int, tuple[int, ...], int]] = [(0, start, 0)]
    while waiting:
        cost, count, first = heapq.heappop(waiting)
        yield cost, count, next((scale for scale in scales if not scale.passes(count)), None)
        for place in range(first, len(priced)):
            stock = priced[place]
            if count[stock] < task.most(stock):
                more = (*count[:stock], count[stock] + 1, *count[stock + 1 :])
                heapq.heappush(waiting, (cost + task.costs[stock], more, place))


def floor_of(task: Task, scales: tuple[Weighing, ...]) -> Floor:
    """The lower bound on the cost of a task."""
    cost, last = 0, None
    for looked, (cost_now, _, scale) in enumerate(choices(task, scales)):
        cost = cost_now
        if scale is None or looked >= MOST_CHOICES:
            break
        last = scale
    return Floor(cost, last)
