"""Cheaper stock for a layout that was found: which pieces to try, and trying hard on them."""

from itertools import islice

from trued.plan.bounds.bound import Floor, choices
from trued.plan.layout.result import Ended
from trued.plan.layout.task import Task
from trued.plan.search.best import Best
from trued.plan.search.boards import BoardFiller
from trued.plan.search.climb import STALE, climb
from trued.plan.search.exact import Exhaustive, TooManyWaysError
from trued.plan.search.sheets import Sheet, SheetFiller, sheet_filler, sheets_of

FEW_CHOICES = 3
MOST_CHOICES = 2_000
"""Choices of stock between the bound and the best that are gone through one by one, and looked at for halving."""
TRIES = 30
"""Layouts of a single sheet that are tried for each filling."""
MOST_SHEETS = 40
"""Above this many stock pieces they are not filled one by one."""
PATIENCE = 100
"""Refillings without a gain after which all sheets are filled anew."""


def smaller_pieces(best: Best) -> None:
    """Move what lies on one piece to a cheaper one that can hold it, the emptiest pieces first."""
    task = best.task
    if best.trial is None or len(task.stocks) == 1 or len(best.trial.bins) > MOST_SHEETS:
        return
    filler, sheets = sheet_filler(task, task.rules.seed), sheets_of(best.trial)
    held = {place: sum(task.wants[w].area * n for w, n in sheet.placed.items()) for place, sheet in enumerate(sheets)}
    for place in sorted(held, key=lambda place: (held[place], place)):
        for stock in _cheaper_than(task, sheets, sheets[place].stock):
            moved = _moved(best, filler, sheets[place], stock) if held[place] <= task.beds[stock].area else None
            if moved is not None:
                sheets[place] = moved
                best.consider(filler.trial(sheets, [0] * len(task.wants)), None)
                break


def _cheaper_than(task: Task, sheets: list[Sheet], than: int) -> list[int]:
    """The stocks that cost less than this one and of which a piece is left, the cheapest first."""
    used = [sheet.stock for sheet in sheets]
    stocks = [s for s in range(len(task.stocks)) if task.costs[s] < task.costs[than] and used.count(s) < task.most(s)]
    return sorted(stocks, key=lambda stock: (task.costs[stock], stock))


def _moved(best: Best, filler: SheetFiller, sheet: Sheet, stock: int) -> Sheet | None:
    for _ in range(TRIES):
        best.spend(1)
        moved = filler.again(sheet, stock) if best.left else None
        if moved is not None:
            return moved
    return None


def halving(best: Best, boards: BoardFiller | None) -> None:
    """Where many choices of stock lie between the bound and the best: halve them, as if dearer were always easier."""
    if best.verdict is None:
        return
    between = _between(best)
    low, high = 0, len(between)
    while high - low > FEW_CHOICES and best.left:
        middle = (low + high) // 2
        count = max(between[: middle + 1], key=lambda count: _room_for_waste(best.task, count))
        before, bins = best.verdict, _in_order(best.task, count)
        cost = sum(best.task.costs[stock] for stock in bins)
        _try_hard(best, bins, boards, cost, best.left // 4)
        low, high = (low, middle) if best.verdict.cost < before.cost else (middle + 1, high)


def _room_for_waste(task: Task, count: tuple[int, ...]) -> int:
    """The area of so many pieces, less a hundredth of the largest for each: few large pieces waste less."""
    areas = [bed.area for bed in task.beds]
    return sum(number * (area - max(areas) // 100) for number, area in zip(count, areas, strict=True))


def _between(best: Best) -> list[tuple[int, ...]]:
    """The choices of stock that no scale excludes and that are cheaper than the best, the cheapest first."""
    if best.verdict is None:
        return []
    found = []
    for cost, count, scale in islice(choices(best.task, best.scales), MOST_CHOICES):
        if cost >= best.verdict.cost:
            break
        if scale is None and any(count):
            found.append(count)
    return found


def cheaper_stock(best: Best, boards: BoardFiller | None) -> None:
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
            # One kind of stock has one cheaper choice at most that may be enough; with several, some is kept for more.
            share = best.left * 7 // 8 if len(best.task.stocks) == 1 else best.left // 2
            _try_hard(best, bins, boards, cost, share)
            if not _reached(best, cost):
                certain = _excluded(best, every_way, bins) and certain
            if _reached(best, cost):
                return
    best.every_way = best.every_way or (certain and best.verdict is None)


def _try_hard(
    best: Best,
    bins: tuple[int, ...],
    boards: BoardFiller | None,
    cost: int,
    budget: int,
) -> None:
    """All ways of search on one choice of stock, until one of them reaches its cost or the budget is spent."""
    stop = best.spent + budget
    if boards is not None and budget:
        _fill_boards(best, boards, bins, budget // 2)
    if budget and not _reached(best, cost):
        climb(best, bins, None, max(STALE, budget // 8))
    if best.spent < stop and not _reached(best, cost) and len(bins) <= MOST_SHEETS:
        _fill_sheets(best, bins, stop - best.spent)


def _good_enough(best: Best, cost: int) -> bool:
    """Nothing is to be gained by stock of this cost: the best so far is no dearer, and parts no mates."""
    return best.verdict is not None and best.verdict.split == 0 and cost >= best.verdict.cost


def _reached(best: Best, cost: int) -> bool:
    return best.verdict is not None and best.verdict.cost <= cost


def _fill_boards(best: Best, boards: BoardFiller, bins: tuple[int, ...], budget: int) -> None:
    stop = best.spent + budget
    for _ in range(best.left):
        best.tried += 1
        best.spend(1 + len(bins) * len(best.task.wants) // 150)
        verdict = best.consider(boards.trial(bins), None)
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
    kinds = sorted(range(len(task.stocks)), key=lambda stock: (task.costs[stock] > 0, task.rate(stock), stock))
    return tuple(stock for stock in kinds for _ in range(count[stock]))
