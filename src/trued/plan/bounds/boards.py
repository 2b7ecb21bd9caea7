"""Scales for boards: where no two parts can lie side by side, lengths alone decide."""

from dataclasses import replace

from trued.plan.bounds.board_patterns import Boards, relax
from trued.plan.bounds.knapsack import fullest
from trued.plan.bounds.scales import Weighing, weighing
from trued.plan.layout.free_pieces import FAR
from trued.plan.layout.task import Task

FINE = 1 << 24
"""The dearest price becomes this weight."""


Lengths = tuple[tuple[int, ...], ...]
"""For each stock, the length of each part along it with its kerf; 0 where the part may not lie there."""


def lengths_of(task: Task) -> Lengths | None:
    """The lengths along the boards; None when two parts could lie side by side.

    A part that may be turned counts with its shorter way of lying; that keeps the bound a bound.
    """
    if any(_two_abreast(task, stock) for stock in range(len(task.stocks))):
        return None
    kerf = task.rules.kerf
    return tuple(tuple(min(ways)[0] + kerf if ways else 0 for ways in lies) for lies in task.lies)


def _two_abreast(task: Task, stock: int) -> bool:
    widths = sorted(
        min(lie[1] for lie in ways)
        for ways, want in zip(task.lies[stock], task.wants, strict=True)
        for _ in range(min(2, want.copies))
        if ways
    )
    return len(widths) > 1 and widths[0] + widths[1] + task.rules.kerf <= task.beds[stock].width


def rooms_of(task: Task, lengths: Lengths) -> tuple[int, ...]:
    """The length of each stock's usable rectangle with one kerf more."""
    return tuple(_room(task, stock, max(here, default=0)) for stock, here in enumerate(lengths))


def _room(task: Task, stock: int, longest: int) -> int:
    bed = task.beds[stock]
    room = bed.length + task.rules.kerf
    if bed.state_x == FAR or task.rules.remainder or longest == room:
        return room
    return room - 1  # the last part gets a cut of its own


def board_scales(task: Task) -> list[Weighing]:
    """By number of pieces: as many of the shortest as a board can hold."""
    lengths = lengths_of(task)
    if lengths is None:
        return []
    pieces = tuple(_most(task, here, room) for here, room in zip(lengths, rooms_of(task, lengths), strict=True))
    return [weighing(task, "pieces", tuple(1 for _ in task.wants), pieces)]


def boards_of(task: Task, lengths: Lengths) -> Boards:
    """The task in lengths alone: what the search by patterns and its bounds work on."""
    return Boards(
        lengths,
        tuple(want.copies for want in task.wants),
        rooms_of(task, lengths),
        task.costs,
        tuple(task.most(stock) for stock in range(len(task.stocks))),
    )


def priced_scales(task: Task) -> list[Weighing]:
    """By the prices of the linear relaxation. Slow: for where others fall short."""
    lengths = lengths_of(task)
    if lengths is None:
        return []
    boards = boards_of(task, lengths)
    scales = [_priced(task, boards, costs) for costs in _cost_ways(boards)]
    return [scale for scale in scales if scale is not None]


def _cost_ways(boards: Boards) -> list[tuple[int, ...]]:
    """Costs that the prices may rest on: by length, and as they are."""
    return [boards.rooms] if len(boards.rooms) == 1 or not any(boards.costs) else [boards.rooms, boards.costs]


def _priced(task: Task, boards: Boards, costs: tuple[int, ...]) -> Weighing | None:
    # By length the stock at hand is taken as enough, so that the prices say what is short.
    have = boards.have if costs == boards.costs else tuple(task.copies for _ in boards.have)
    relaxed = relax(replace(boards, costs=costs, have=have))
    if relaxed is None:
        return None
    top = max(relaxed.prices) or 1.0
    weights = tuple(int(FINE * price / top) for price in relaxed.prices)
    # What a board holds is worked out anew in whole numbers, so that no rounding can make the bound too high.
    capacities = tuple(
        int(fullest(here, weights, boards.demand, room).most)
        for here, room in zip(boards.lengths, boards.rooms, strict=True)
    )
    return weighing(task, "the worth of each length", weights, capacities)


def _most(task: Task, lengths: tuple[int, ...], room: int) -> int:
    count = 0
    for length, copies in sorted(zip(lengths, (want.copies for want in task.wants), strict=True)):
        here = min(copies, room // length) if length else 0
        count, room = count + here, room - here * length
    return count
