"""The search: many recipes, the better ones changed a little at a time, on the cheapest stock that may be enough."""

from collections.abc import Callable

from trued.plan.bounds.boards import priced_scales
from trued.plan.bounds.bound import Floor, floor_of, too_much
from trued.plan.bounds.scales import Weighing
from trued.plan.layout.result import Ended
from trued.plan.layout.task import Task
from trued.plan.rng import Rng
from trued.plan.search.best import Best
from trued.plan.search.boards import BoardFiller, board_filler
from trued.plan.search.climb import POLISH, climb, orders
from trued.plan.search.objective import Objective
from trued.plan.search.patterns import by_patterns
from trued.plan.search.sheets import number_copies, sheet_filler, sheets_of
from trued.plan.search.stock import cheaper_stock, halving, smaller_pieces

BOARDS_SHARE = 2
"""How many times the effort boards may take: by patterns they are quickly made."""
LEAST_ROUND = 100
"""The effort below which a round is not worth its start."""


def search(task: Task, scales: tuple[Weighing, ...], told: Callable[[Objective, Floor], None] | None = None) -> Best:
    """Look for the best layout of a task, and for the least cost that any can have.

    The effort grows fourfold from round to round up to what the rules give, each round on from the best so far: a
    larger effort does all that a quarter of it did, and more, so that it can never end dearer.
    told: hears of every cheaper layout as it is found.
    """
    best = Best(task, Rng(task.rules.seed), scales=scales, floor=floor_of(task, scales), told=told)
    boards = board_filler(task)
    for effort in _rounds(task.rules.effort):
        best.begin(effort * (BOARDS_SHARE if boards is not None else task.share))
        _round(best, boards)
        if best.ended is Ended.TIME or best.proved:
            break
    if best.trial is not None:
        number_copies(best.trial)
    if best.proved and best.ended is Ended.EFFORT:
        best.ended = Ended.PROVED
    return best


def _rounds(effort: int) -> list[int]:
    rounds = [effort]
    while rounds[0] // 4 >= LEAST_ROUND:
        rounds.insert(0, rounds[0] // 4)
    return rounds


def _round(best: Best, boards: BoardFiller | None) -> None:
    task = best.task
    _first_answers(best, boards)
    if not best.proved and not best.priced:
        best.priced = True
        more = priced_scales(task)
        best.scales = (*best.scales, *more)
        best.floor = floor_of(task, best.scales) if more else best.floor
    if not best.proved and too_much(task, best.scales) is None:
        if boards is not None:
            by_patterns(best, boards)
        smaller_pieces(best)
        halving(best, boards)
        cheaper_stock(best, boards)
        smaller_pieces(best)
    if best.trial is not None:
        _better_offcuts(best)


def _better_offcuts(best: Best) -> None:
    """At the same cost: larger offcuts, fewer settings. First by changes of the recipe, then piece by piece."""
    if best.recipe is not None and best.trial is not None:
        bins = tuple(stock for stock, _ in best.trial.bins)
        climb(best, bins, best.recipe, best.left // 2)
    if best.trial is None or best.verdict is None:
        return
    filler, sheets, verdict = sheet_filler(best.task, best.task.rules.seed), sheets_of(best.trial), best.verdict
    stale = 0
    while best.left and stale < POLISH:
        best.tried += 1
        best.spend(1)
        stale += 1
        place = best.chance.below(len(sheets))
        sheet = filler.again(sheets[place], sheets[place].stock)
        if sheet is not None:
            other = [*sheets[:place], sheet, *sheets[place + 1 :]]
            now = best.consider(filler.trial(other, [0] * len(best.task.wants)), None)
            if now <= verdict:
                stale = 0 if now < verdict else stale
                sheets, verdict = other, now


def _first_answers(best: Best, boards: BoardFiller | None) -> None:
    """A few good orders on stock opened as needed: quick, and never far off."""
    task = best.task
    for bins in _openings(task):
        if boards is not None:
            best.look_at_the_time()
            best.consider(boards.trial(bins), None)
        for recipe in orders(task):
            if best.trial is not None and (not best.left or best.spent > best.limit // 4):
                break
            best.attempt(recipe, bins)


def _openings(task: Task) -> list[tuple[int, ...]]:
    """Orders in which stock may be opened: offcuts first, then all of one kind before the others."""
    kinds = range(len(task.stocks))
    free = [stock for stock in kinds if not task.costs[stock] for _ in range(task.most(stock))]
    priced = sorted((stock for stock in kinds if task.costs[stock]), key=lambda stock: (task.rate(stock), stock))
    ways = []
    for first in priced or [-1]:
        rest = [first, *(stock for stock in priced if stock != first)] if priced else []
        ways.append((*free, *(stock for stock in rest for _ in range(task.most(stock)))))
    return ways
