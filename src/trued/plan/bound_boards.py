"""Scales for boards: where no two parts can lie side by side, lengths alone decide."""

from trued.plan.bound_scales import Weighing, weighing
from trued.plan.search_task import Task


def lengths_of(task: Task) -> tuple[int, ...] | None:
    """The length of each part along the boards, its kerf included; None when two parts could lie side by side.

    A part that may be turned counts with its shorter way of lying; that keeps the bound a bound.
    """
    kerf = task.rules.kerf
    for stock, bed in enumerate(task.beds):
        if bed is not None:
            widths = sorted(
                lie[1]
                for want, ways in enumerate(task.lies[stock])
                if ways
                for lie in [min(ways, key=lambda way: way[1])]
                for _ in range(min(2, task.wants[want].copies))
            )
            if len(widths) > 1 and widths[0] + widths[1] + kerf <= bed.width:
                return None
    lengths = [[lie[0] for ways in task.lies for lie in ways[want]] for want in range(len(task.wants))]
    return tuple(min(ways) + kerf if ways else 0 for ways in lengths)


def rooms_of(task: Task) -> tuple[int, ...]:
    """The length of each stock's usable rectangle with one kerf more, 0 where nothing is usable."""
    return tuple(bed.length + task.rules.kerf if bed else 0 for bed in task.beds)


def board_scales(task: Task) -> list[Weighing]:
    """By number of pieces: as many of the shortest as a board can hold."""
    lengths = lengths_of(task)
    if lengths is None:
        return []
    return [weighing(task, "pieces", tuple(1 for _ in lengths), tuple(_most(task, lengths, r) for r in rooms_of(task)))]


def _most(task: Task, lengths: tuple[int, ...], room: int) -> int:
    count = 0
    for length, copies in sorted(zip(lengths, (want.copies for want in task.wants), strict=True)):
        here = copies if length == 0 else min(copies, room // length)
        count, room = count + here, room - here * length
        if here < copies:
            break
    return count
