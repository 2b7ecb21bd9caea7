"""The search: many recipes, the better ones changed a little at a time, on the cheapest stock that may be enough."""

from dataclasses import dataclass, field, replace

from trued.plan.bound import Floor, choices, floor_of, too_much
from trued.plan.bound_boards import priced_scales
from trued.plan.bound_prices import Filling
from trued.plan.bound_scales import Weighing
from trued.plan.result import Ended
from trued.plan.search_boards import BoardFiller, board_filler
from trued.plan.search_chance import Chance
from trued.plan.search_decode import FITS, SPLITS, Recipe, Trial, decode
from trued.plan.search_exact import Exhaustive, TooManyWaysError
from trued.plan.search_sheets import number_copies, sheet_filler, sheets_of
from trued.plan.search_task import Task
from trued.plan.search_value import Verdict, judge

TRIES = 30
"""Layouts of a single sheet that are tried for each filling."""
MOST_SHEETS = 40
"""Above this many stock pieces they are not filled one by one."""
PATIENCE = 100
"""Refillings without a gain after which all sheets are filled anew."""
POLISH = 400
"""Changes without a gain after which a layout is not bettered further at the same cost."""
STALE = 60
"""Changes without a gain after which the search starts again from another order."""


@dataclass(slots=True)
class Best:
    """The best complete trial, the best incomplete one, and how the search ended.

    scales, floor:  what bounds the cost from below.
    every_way:      the cost in it is the least, or there is no layout, because every way of cutting was tried.
    """

    task: Task
    chance: Chance
    trial: Trial | None = None
    verdict: Verdict | None = None
    recipe: Recipe | None = None
    near: Trial | None = None
    near_verdict: Verdict | None = None
    tried: int = 0
    ended: Ended = Ended.EFFORT
    scales: tuple[Weighing, ...] = ()
    floor: Floor = field(default_factory=lambda: Floor(0, None))
    every_way: bool = False
    spent: int = 0

    @property
    def left(self) -> int:
        """Layouts that may still be tried."""
        return 0 if self.ended is Ended.TIME else max(0, self.task.rules.effort - self.spent)

    @property
    def proved(self) -> bool:
        """The best trial costs no more than any layout must."""
        return self.verdict is not None and self.verdict.cost <= self.floor.cost

    def attempt(self, recipe: Recipe, bins: tuple[int, ...]) -> Verdict:
        """Try one recipe and keep it if it is the best so far."""
        self.look_at_the_time()
        return self.consider(decode(self.task, recipe, bins), recipe)

    def look_at_the_time(self) -> None:
        """Count one try; a large job counts for more, so that the effort is about the same time."""
        self.tried += 1
        self.spend(1 + self.task.copies**2 // 8000)

    def spend(self, effort: int) -> None:
        """Count effort and look whether the time is up."""
        self.spent += effort
        time_up = self.task.rules.time_up
        if time_up is not None and time_up():
            self.ended = Ended.TIME

    def consider(self, trial: Trial, recipe: Recipe | None) -> Verdict:
        """Keep a trial if it is the best so far."""
        verdict = judge(self.task, trial)
        if trial.complete and (self.verdict is None or verdict < self.verdict):
            self.trial, self.verdict, self.recipe = trial, verdict, recipe
        if not trial.complete and (self.near_verdict is None or verdict < self.near_verdict):
            self.near, self.near_verdict = trial, verdict
        return verdict


def search(task: Task, scales: tuple[Weighing, ...]) -> Best:
    """Look for the best layout of a task, and for the least cost that any can have."""
    best = Best(task, Chance(task.rules.seed), scales=scales, floor=floor_of(task, scales))
    boards = board_filler(task)
    fillings: tuple[Filling, ...] = ()
    _first_answers(best, boards)
    if not best.proved:
        more, fillings = priced_scales(task)
        best.scales = (*scales, *more)
        best.floor = floor_of(task, best.scales) if more else best.floor
    if not best.proved and too_much(task, best.scales) is None:
        _cheaper_stock(best, boards, fillings)
    if best.trial is not None:
        _better_offcuts(best)
        number_copies(best.trial)
    if best.proved and best.ended is Ended.EFFORT:
        best.ended = Ended.PROVED
    return best


def _better_offcuts(best: Best) -> None:
    """At the same cost: larger offcuts, fewer settings. First by changes of the recipe, then piece by piece."""
    if best.recipe is not None and best.trial is not None:
        bins = tuple(stock for stock, _ in best.trial.bins)
        _climb(best, bins, best.recipe, best.left // 2)
    if best.trial is None or best.verdict is None:
        return
    filler, sheets, verdict = sheet_filler(best.task, best.task.rules.seed), sheets_of(best.trial), best.verdict
    stale = 0
    while best.left and stale < POLISH:
        best.tried += 1
        best.spend(1)
        stale += 1
        place = best.chance.below(len(sheets))
        sheet = filler.again(sheets[place])
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
        for recipe in _orders(task):
            if best.trial is not None and (not best.left or best.spent > task.rules.effort // 4):
                break
            best.attempt(recipe, bins)


def _openings(task: Task) -> list[tuple[int, ...]]:
    """Orders in which stock may be opened: offcuts first, then all of one kind before the others."""
    kinds = range(len(task.stocks))
    free = [stock for stock in kinds if not task.costs[stock] for _ in range(task.most(stock))]
    priced = sorted((stock for stock in kinds if task.costs[stock]), key=lambda stock: (_rate(task, stock), stock))
    ways = []
    for first in priced or [-1]:
        rest = [first, *(stock for stock in priced if stock != first)] if priced else []
        ways.append((*free, *(stock for stock in rest for _ in range(task.most(stock)))))
    return ways


def _rate(task: Task, stock: int) -> float:
    return task.costs[stock] / task.beds[stock].area


def _orders(task: Task) -> list[Recipe]:
    """Starting recipes: parts by size in five senses, in rows, with every way to split and fit."""
    wants = task.wants
    keys = (
        [-(want.length * want.width) for want in wants],
        [-max(want.length, want.width) for want in wants],
        [-want.width for want in wants],
        [-want.length for want in wants],
        [-(want.length + want.width) for want in wants],
    )
    orders = []
    for key in keys:
        order = tuple((want, wants[want].copies) for want in sorted(range(len(wants)), key=lambda w: (key[w], w)))
        orders += [Recipe(order, fit, split) for split, fit in ((1, 0), (2, 0), (0, 0), (1, 2), (0, 1), (3, 0), (4, 0))]
    return orders


def _cheaper_stock(best: Best, boards: BoardFiller | None, fillings: tuple[Filling, ...]) -> None:
    """Go through the choices of stock that are cheaper than the best so far, the cheapest first."""
    every_way = Exhaustive(best.task)
    certain = True
    for cost, count, scale in choices(best.task, best.scales):
        if certain and cost > best.floor.cost:
            best.floor, best.every_way = Floor(cost, None), True
        if best.ended is Ended.TIME or _good_enough(best, cost) or not (best.left or every_way.possible):
            return
        if scale is None and any(count):
            bins = _in_order(best.task, count)
            _try_hard(best, bins, boards, fillings, cost)
            if not _reached(best, cost):
                certain = _excluded(best, every_way, bins) and certain
            if _reached(best, cost):
                return
    best.every_way = best.every_way or (certain and best.verdict is None)


def _try_hard(
    best: Best, bins: tuple[int, ...], boards: BoardFiller | None, fillings: tuple[Filling, ...], cost: int
) -> None:
    """All ways of search on one choice of stock, until one of them reaches its cost."""
    if boards is not None and best.left:
        _fill_boards(best, boards, bins, fillings)
    if best.left and not _reached(best, cost):
        _climb(best, bins, None, max(STALE, best.left // 8))
    if best.left and not _reached(best, cost) and len(bins) <= MOST_SHEETS:
        _fill_sheets(best, bins, best.left * 3 // 4 if len(best.task.stocks) == 1 else best.left // 3)


def _good_enough(best: Best, cost: int) -> bool:
    """Nothing is to be gained by stock of this cost: the best so far is no dearer, and parts no mates."""
    return best.verdict is not None and best.verdict.split == 0 and cost >= best.verdict.cost


def _reached(best: Best, cost: int) -> bool:
    return best.verdict is not None and best.verdict.cost <= cost


def _fill_boards(best: Best, boards: BoardFiller, bins: tuple[int, ...], fillings: tuple[Filling, ...]) -> None:
    stop = best.spent + best.left // 2
    for number in range(best.left):
        best.tried += 1
        best.spend(1 + len(bins) * len(best.task.wants) // 150)
        verdict = best.consider(boards.trial(bins, fillings if number % 2 == 0 else ()), None)
        if verdict.missing == 0 or best.spent >= stop or not best.left:
            return


def _excluded(best: Best, every_way: Exhaustive, bins: tuple[int, ...]) -> bool:
    """Whether it is certain that these stock pieces are not enough."""
    try:
        trial = every_way.place(bins)
    except TooManyWaysError:
        return False
    if trial is None:
        return True
    best.consider(trial, None)
    return False


def _fill_sheets(best: Best, bins: tuple[int, ...], budget: int) -> None:
    """Sheet by sheet, then again and again two or three of them anew; from the start where that leads nowhere."""
    stop = best.spent + budget
    wants = best.task.wants
    while best.spent < stop and best.left:
        filler = sheet_filler(best.task, best.task.rules.seed + best.spent)
        left = [want.copies for want in wants]
        sheets = filler.fill(bins, left, TRIES)
        best.spend(TRIES)
        stale = 0
        while any(left) and stale < PATIENCE and best.spent < stop and best.left:
            before = sum(left)
            sheets = filler.refill(sheets, bins, left, TRIES)
            best.tried += 1
            best.spend(1 + 3 * TRIES // len(bins))
            stale = 0 if sum(left) < before else stale + 1
        if best.consider(filler.trial(sheets, left), None).missing == 0:
            return


def _in_order(task: Task, count: tuple[int, ...]) -> tuple[int, ...]:
    kinds = sorted(range(len(task.stocks)), key=lambda stock: (task.costs[stock] > 0, _rate(task, stock), stock))
    return tuple(stock for stock in kinds for _ in range(count[stock]))


def _climb(best: Best, bins: tuple[int, ...], start: Recipe | None, budget: int) -> None:
    """Change a recipe a little at a time and keep what is no worse; begin anew where that leads nowhere."""
    starts = _orders(best.task)
    stop = best.spent + min(budget, best.left)
    recipe = start or starts[best.chance.below(len(starts))]
    verdict = best.attempt(recipe, bins)
    stale = 0
    while best.spent < stop and best.left and not (start is None and verdict.missing == 0):
        other = _changed(recipe, best.chance)
        now = best.attempt(other, bins)
        stale = 0 if now < verdict else stale + 1
        if now <= verdict:
            recipe, verdict = other, now
        if start is not None and stale > POLISH:
            return
        if start is None and stale > STALE:
            recipe, stale = starts[best.chance.below(len(starts))], 0
            verdict = best.attempt(recipe, bins)


def _changed(recipe: Recipe, chance: Chance) -> Recipe:
    order = list(recipe.order)
    what = chance.below(100)
    if what < 20:
        return replace(recipe, fit=chance.below(FITS)) if what < 10 else replace(recipe, split=chance.below(SPLITS))
    place = chance.below(len(order))
    if what < 40:  # part a row
        want, count = order[place]
        if count > 1:
            some = 1 + chance.below(count - 1)
            order[place] = (want, count - some)
            order.insert(chance.below(len(order) + 1), (want, some))
            return replace(recipe, order=tuple(order))
    if what < 60:
        other = chance.below(len(order))
        order[place], order[other] = order[other], order[place]
    else:
        item = order.pop(place)
        order.insert(chance.below(len(order) + 1), item)
    return replace(recipe, order=_joined(order))


def _joined(order: list[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """Rows of the same part that came to stand side by side are one row again."""
    joined: list[tuple[int, int]] = []
    for want, count in order:
        if joined and joined[-1][0] == want:
            joined[-1] = (want, joined[-1][1] + count)
        else:
            joined.append((want, count))
    return tuple(joined)
