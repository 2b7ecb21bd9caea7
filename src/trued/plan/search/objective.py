"""How good a trial is, in the order that counts for the shop."""

from dataclasses import dataclass

from trued.plan.layout.cut_tree import Sized
from trued.plan.layout.free_pieces import Room, mark_holders
from trued.plan.layout.freeze import useful
from trued.plan.layout.task import Task
from trued.plan.search.decode import Trial

UNITS_PER_M = 10_000_000_000


def offcut_worth(area: int) -> float:
    """What an offcut is worth: (area in m²)^1.5, so that one large is worth more than two of half its size."""
    return float((area / UNITS_PER_M**2) ** 1.5)


@dataclass(frozen=True, slots=True, order=True)
class Objective:
    """Smaller is better, field by field: parts left over (by area), mates parted, cost, offcuts, settings, pieces."""

    missing: int
    split: int
    cost: int
    less_offcuts: float
    settings: int
    pieces: int


def judge(task: Task, trial: Trial) -> Objective:
    """The verdict on a trial. Offcuts and settings are worked out for complete ones only."""
    missing = sum(task.wants[want].length * task.wants[want].width * count for want, count in trial.missing.items())
    cost = sum(task.costs[stock] for stock, _ in trial.bins)
    if missing:
        return Objective(missing, len(trial.split), cost, 0.0, 0, len(trial.bins))
    worth, settings = 0.0, set[tuple[bool, int]]()
    for stock, root in trial.bins:
        mark_holders(root)
        worth += _look(task, stock, root, settings)
    return Objective(0, len(trial.split), cost, -round(worth, 9), len(settings), len(trial.bins))


def _look(task: Task, stock: int, root: Room, settings: set[tuple[bool, int]]) -> float:
    worth = 0.0
    waiting = [root]
    while waiting:
        here = waiting.pop()
        if not here.holds:
            if useful(here.length, here.width, task.stocks[stock], task.rules):
                worth += offcut_worth(here.length * here.width)
            continue
        if here.sized is not Sized.NONE:
            settings.add((here.across, here.position))
        waiting.extend(child for child in (here.low, here.high) if child is not None)
    return worth
