"""Boards to the optimum: patterns of one board, priced by the linear relaxation, and an exact finish in whole boards.

A pattern says how many of each length come out of one board. The relaxation is solved by making patterns as they pay
(P. C. Gilmore and R. E. Gomory, *A linear programming approach to the cutting-stock problem*, Oper. Res. 9 (1961)).
Between its cost and the cheapest plan known lies a gap; no pattern whose reduced cost is above that gap can be part of
a cheaper plan (the same step as in R. Baldacci, N. Christofides and A. Mingozzi, Math. Program. 115 (2008), there for
routes). So all patterns below it are listed, and the integer program over them is the whole problem.

The library's numbers are floating-point: every plan is built again piece by piece, and the bound that is told rests on
whole weights (`bound_boards`), or on an integer program that was solved to its end.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import gcd
from typing import TYPE_CHECKING

from trued.plan.bounds.knapsack import MOST_NODES, fullest
from trued.plan.rng import Rng

if TYPE_CHECKING:
    from highspy.highs import HighsCallbackEvent

    from trued.plan.bounds.linear_program import Program

ROUNDS = 3000
"""Rounds of pricing at most; the relaxation is then taken as it is."""
STEPS = 40
"""Steps of listing for each pattern that may be listed."""
TINY = 1e-7
QUICK = 400
"""Fillings looked at for a pattern that need not be the best."""


@dataclass(frozen=True, slots=True)
class Pattern:
    """One way to fill one board: which stock, how many of each length."""

    stock: int
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Boards:
    """Lengths for each stock (0 where one may not lie there), demand, and rooms, costs and numbers of the stock.

    lengths and rooms hold one kerf more than there is, in any whole unit; costs are whole; `have` is the most of each.
    """

    lengths: tuple[tuple[int, ...], ...]
    demand: tuple[int, ...]
    rooms: tuple[int, ...]
    costs: tuple[int, ...]
    have: tuple[int, ...]

    @property
    def step(self) -> int:
        """Every cost is a whole multiple of this."""
        return gcd(*self.costs) or 1


@dataclass(frozen=True, slots=True)
class Relaxed:
    """The relaxation: prices of the lengths and of the stock limits, its cost, and patterns with how often each."""

    prices: tuple[float, ...]
    limits: tuple[float, ...]
    cost: float
    patterns: tuple[tuple[Pattern, float], ...]
    ended: bool


@dataclass(frozen=True, slots=True)
class Whole:
    """A plan in whole boards with its cost; `least` when no plan is cheaper."""

    patterns: tuple[tuple[Pattern, int], ...]
    cost: int
    least: bool


def relax(boards: Boards, stop: Callable[[], bool] = lambda: False) -> Relaxed | None:
    """The linear relaxation; None where the stock at hand cannot hold the parts even in fractions.

    `stop` is asked before every round of pricing; a relaxation that it cuts short has not `ended`.
    """
    master = _Master(boards)
    master.solve()
    for _ in range(ROUNDS):
        made = master.price()
        if not made or stop():
            return master.relaxed(ended=not made)
        for pattern in made:
            master.add(pattern)
        master.solve()
    return master.relaxed(ended=False)


class _Master:
    """The linear program, and the patterns that are its columns. One column a length stands for what is not met."""

    def __init__(self, boards: Boards) -> None:
        self.boards = boards
        self.patterns: list[Pattern] = []
        self.known: set[Pattern] = set()
        self.scale = float(max(boards.costs) or 1)
        self.lp = _model(boards)
        size = len(boards.demand)
        dear = 4.0 * (sum(boards.costs) / self.scale + 1.0)
        for i in range(size):
            self.lp.addCol(dear, 0.0, float("inf"), 1, [i], [1.0])
        for stock, here in enumerate(boards.lengths):
            for i in range(size):
                if here[i] and here[i] <= boards.rooms[stock]:
                    count = min(boards.rooms[stock] // here[i], boards.demand[i])
                    self.add(Pattern(stock, tuple(count if j == i else 0 for j in range(size))))

    def add(self, pattern: Pattern) -> None:
        if pattern in self.known:
            return
        self.known.add(pattern)
        self.patterns.append(pattern)
        _add(self.lp, self.boards, pattern, self.scale)

    def solve(self) -> None:
        self.lp.run()
        solution = self.lp.getSolution()
        size = len(self.boards.demand)
        self.values = list(solution.col_value)
        duals = list(solution.row_dual)
        self.prices = [max(0.0, dual) for dual in duals[:size]]
        self.limits = [min(0.0, dual) for dual in duals[size:]]

    def price(self) -> list[Pattern]:
        """Patterns that make the relaxation cheaper: looked for quickly first, then in every way."""
        return self._priced(QUICK) or self._priced(MOST_NODES)

    def _priced(self, nodes: int) -> list[Pattern]:
        boards = self.boards
        made = []
        for stock, room in enumerate(boards.rooms):
            if not boards.have[stock]:
                continue
            fill = fullest(boards.lengths[stock], self.prices, boards.demand, room, nodes)
            worth = boards.costs[stock] / self.scale - self.limits[stock]
            pattern = Pattern(stock, fill.counts)
            if fill.worth > worth + TINY and pattern not in self.known:
                made.append(pattern)
        return made

    def relaxed(self, *, ended: bool) -> Relaxed | None:
        size = len(self.boards.demand)
        if any(value > TINY for value in self.values[:size]):
            return None
        often = [(p, v) for p, v in zip(self.patterns, self.values[size:], strict=True) if v > TINY]
        cost = sum(self.boards.costs[p.stock] * v for p, v in often)
        scale = self.scale
        return Relaxed(
            tuple(p * scale for p in self.prices), tuple(m * scale for m in self.limits), cost, tuple(often), ended
        )


def _model(boards: Boards) -> Program:
    from trued.plan.bounds.linear_program import Program

    model = Program()  # type: ignore[no-untyped-call]
    infinite = float("inf")
    for count in boards.demand:
        model.addRow(float(count), infinite, 0, [], [])
    for most in boards.have:
        model.addRow(-infinite, float(most), 0, [], [])
    return model


def _add(model: Program, boards: Boards, pattern: Pattern, scale: float) -> None:
    used = [(i, float(count)) for i, count in enumerate(pattern.counts) if count]
    rows = [i for i, _ in used] + [len(boards.demand) + pattern.stock]
    model.addCol(boards.costs[pattern.stock] / scale, 0.0, float("inf"), len(rows), rows, [v for _, v in used] + [1.0])


def listed(boards: Boards, relaxed: Relaxed, gap: float, most: int) -> tuple[list[Pattern], bool]:
    """Every pattern to which nothing can be added and whose reduced cost is at most `gap`, and whether that is all.

    most: patterns listed at most.
    """
    found: list[Pattern] = []
    steps = STEPS * most
    for stock in range(len(boards.rooms)):
        if not boards.have[stock]:
            continue
        least = boards.costs[stock] - relaxed.limits[stock] - gap
        here, steps = _listed_of(boards, stock, relaxed.prices, least, steps, most - len(found))
        found += here
        if steps <= 0 or len(found) >= most:
            return found, False
    return found, True


def _listed_of(
    boards: Boards, stock: int, prices: Sequence[float], least: float, steps: int, most: int
) -> tuple[list[Pattern], int]:
    lengths, demand, whole = boards.lengths[stock], boards.demand, boards.rooms[stock]
    order = sorted(
        (i for i in range(len(lengths)) if 0 < lengths[i] <= whole), key=lambda i: (-prices[i] / lengths[i], i)
    )
    sizes, worths, limits = [lengths[i] for i in order], [prices[i] for i in order], [demand[i] for i in order]
    count = len(order)
    found: list[Pattern] = []
    chosen = [0] * count
    slack = 1e-6 * max(1.0, abs(least))
    waiting = [(0, whole, 0.0, -1)]
    while waiting and steps > 0 and len(found) < most:
        steps -= 1
        place, room, worth, number = waiting.pop()
        if place:
            chosen[place - 1] = number
        if place == count:
            full = all(chosen[p] == limits[p] or sizes[p] > room for p in range(count))
            if full and worth >= least - slack:
                counts = [0] * len(lengths)
                for p, n in enumerate(chosen):
                    counts[order[p]] = n
                found.append(Pattern(stock, tuple(counts)))
            continue
        if worth + _ceiling(sizes, worths, limits, place, room) < least - slack:
            continue
        size, value = sizes[place], worths[place]
        waiting += [
            (place + 1, room - n * size, worth + n * value, n) for n in range(min(limits[place], room // size) + 1)
        ]
    return found, steps if not waiting else 0


def _ceiling(sizes: list[int], worths: list[float], limits: list[int], place: int, room: int) -> float:
    worth = 0.0
    for here in range(place, len(sizes)):
        size = sizes[here]
        count = min(limits[here], room // size)
        worth += count * worths[here]
        room -= count * size
        if count < limits[here]:
            return worth + room * worths[here] / size
    return worth


def whole_boards(
    boards: Boards, patterns: Sequence[Pattern], *, start: Whole | None, steps: int, stop: Callable[[], bool]
) -> tuple[Whole | None, int]:
    """The cheapest plan in whole boards out of these patterns (None: none was found), and the steps taken for it.

    steps:  how often the integer program may look up from its work, as it does every so many turns of its own.
    start:  a plan to begin with, and what is returned where there is no cheaper one.
    `least` says that the program was solved to its end: these patterns make no cheaper plan.
    """
    import highspy

    model = _model(boards)
    step = float(boards.step)
    for pattern in patterns:
        _add(model, boards, pattern, step)
    for column in range(len(patterns)):
        model.changeColIntegrality(column, highspy.HighsVarType.kInteger)
    model.setOptionValue("mip_rel_gap", 0.0)
    model.setOptionValue("mip_abs_gap", 0.999)  # in steps: costs are whole multiples of it

    looked = 0

    def look(event: HighsCallbackEvent) -> None:
        nonlocal looked
        looked += 1
        if looked > steps or stop():
            event.interrupt()

    model.cbMipInterrupt += look
    if start is not None:
        given = highspy.HighsSolution()
        often = dict(start.patterns)
        given.col_value = [float(often.get(pattern, 0)) for pattern in patterns]
        model.setSolution(given)
    model.run()
    values = list(model.getSolution().col_value)
    if model.getInfo().primal_solution_status != highspy.kSolutionStatusFeasible or not values:
        return None, looked
    used = tuple((p, round(v)) for p, v in zip(patterns, values, strict=True) if round(v))
    if not _meets(boards, used):
        return None, looked
    cost = cost_of(boards, used)
    if start is not None and abs(model.getInfo().objective_function_value * step - cost) > 0.5 * step:
        # HiGHS 1.16 can call a start that it was given the optimum where its presolve takes a pattern for dominated;
        # then it states another objective than that of its own answer. Without a start it does not.
        return whole_boards(boards, patterns, start=None, steps=steps, stop=stop)
    ended = model.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return Whole(used, cost, least=ended), looked


def cost_of(boards: Boards, used: Sequence[tuple[Pattern, int]]) -> int:
    """What the boards of a plan cost."""
    return sum(boards.costs[pattern.stock] * number for pattern, number in used)


def _meets(boards: Boards, used: Sequence[tuple[Pattern, int]]) -> bool:
    """Counted again in whole numbers: every length is met, and no more boards are used than there are."""
    enough = all(sum(p.counts[i] * n for p, n in used) >= count for i, count in enumerate(boards.demand))
    within = all(sum(n for p, n in used if p.stock == s) <= most for s, most in enumerate(boards.have))
    return enough and within


def dive(boards: Boards, first: Relaxed, chance: Rng, stop: Callable[[], bool] = lambda: False) -> Whole | None:
    """One plan by fixing patterns of the relaxation a few at a time and relaxing what is left again."""
    left, have = list(boards.demand), list(boards.have)
    used: dict[Pattern, int] = {}
    now: Relaxed | None = first
    while any(left):
        if now is None or stop():
            return None
        for pattern, often in _fixed(now, chance):
            number = min([often, have[pattern.stock]])
            counts = pattern.counts
            if number <= 0:
                continue
            used[pattern] = used.get(pattern, 0) + number
            have[pattern.stock] -= number
            left = [max(0, count - number * counts[i]) for i, count in enumerate(left)]
        if any(left):
            kept = [i for i, count in enumerate(left) if count]
            rest = Boards(
                tuple(tuple(here[i] for i in kept) for here in boards.lengths),
                tuple(left[i] for i in kept),
                boards.rooms,
                boards.costs,
                tuple(have),
            )
            now = relax(rest, stop)
            if now is not None:
                now = _widened(now, kept, len(left))
    plan = tuple(used.items())
    return Whole(plan, cost_of(boards, plan), least=False) if _meets(boards, plan) else None


def _fixed(relaxed: Relaxed, chance: Rng) -> list[tuple[Pattern, int]]:
    """What is taken as settled: half of the whole boards, or else one pattern, the likelier the more it is used."""
    whole = [(pattern, int(often + 1e-6)) for pattern, often in relaxed.patterns if often >= 1.0 - 1e-6]
    if whole:
        some = [pair for pair in whole if chance.below(4)]
        return some or whole
    top = sum(often * often for _, often in relaxed.patterns)
    pick = top * chance.below(1 << 20) / (1 << 20)
    for pattern, often in relaxed.patterns:
        pick -= often * often
        if pick <= 0.0:
            return [(pattern, 1)]
    return [(relaxed.patterns[-1][0], 1)]


def _widened(relaxed: Relaxed, kept: list[int], size: int) -> Relaxed:
    patterns = []
    for pattern, often in relaxed.patterns:
        counts = [0] * size
        for i, count in zip(kept, pattern.counts, strict=True):
            counts[i] = count
        patterns.append((Pattern(pattern.stock, tuple(counts)), often))
    return Relaxed(relaxed.prices, relaxed.limits, relaxed.cost, tuple(patterns), relaxed.ended)
