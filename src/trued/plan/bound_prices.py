"""What each length is worth at best: the prices of the linear relaxation of filling boards, by column generation.

P. C. Gilmore and R. E. Gomory, *A linear programming approach to the cutting-stock problem*, Oper. Res. 9 (1961). The
prices are floating-point numbers and are believed by no one: `bound_boards` rounds them to whole weights and works out
anew, in whole numbers, what a board can hold of them.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from trued.plan.search_fill import fullest

TINY = 1e-9
MOST_WORK = 6_000_000
"""Rounds times the square of the lengths: after that the prices are taken as they are."""


@dataclass(frozen=True, slots=True)
class Filling:
    """One way to fill one board: which stock, how many of each length, and how often it is used (a fraction)."""

    stock: int
    counts: tuple[int, ...]
    often: float = 0.0


@dataclass(slots=True)
class Boards:
    """The relaxation: lengths for each stock (0 where one may not lie), their demand; boards with room and cost."""

    lengths: Sequence[Sequence[int]]
    demand: Sequence[int]
    rooms: Sequence[int]
    costs: Sequence[float]
    basis: list[Filling | int] = field(default_factory=list)  # a filling, or the number of a length with a surplus
    inverse: list[list[float]] = field(default_factory=list)
    amounts: list[float] = field(default_factory=list)

    def solve(self) -> tuple[list[float], list[Filling]]:
        """The prices of the lengths, and the fillings used with how often."""
        self._start()
        for _ in range(max(20, MOST_WORK // (len(self.demand) ** 2 + 1))):
            prices = self._prices()
            enters = self._enters(prices)
            if enters is None:
                break
            self._pivot(enters)
        fillings = [
            Filling(column.stock, column.counts, amount)
            for column, amount in zip(self.basis, self.amounts, strict=True)
            if isinstance(column, Filling) and amount > TINY
        ]
        return [max(0.0, price) for price in self._prices()], fillings

    def _start(self) -> None:
        size = len(self.demand)
        self.inverse = [[0.0] * size for _ in range(size)]
        for i in range(size):
            most = [room // here[i] if here[i] else 0 for here, room in zip(self.lengths, self.rooms, strict=True)]
            fits = [stock for stock, count in enumerate(most) if count]
            stock = min(fits, key=lambda s: (self.costs[s] / most[s], s))
            count = min(most[stock], self.demand[i])
            self.basis.append(Filling(stock, tuple(count if j == i else 0 for j in range(size))))
            self.inverse[i][i] = 1.0 / count
            self.amounts.append(self.demand[i] / count)

    def _prices(self) -> list[float]:
        costs = [self.costs[column.stock] if isinstance(column, Filling) else 0.0 for column in self.basis]
        size = range(len(costs))
        used = [i for i in size if costs[i]]
        return [sum(costs[i] * self.inverse[i][j] for i in used) for j in size]

    def _enters(self, prices: list[float]) -> Filling | int | None:
        least = min(range(len(prices)), key=lambda i: prices[i])
        if prices[least] < -TINY:
            return least
        best: tuple[float, Filling] | None = None
        for stock, room in enumerate(self.rooms):
            fill = fullest(self.lengths[stock], prices, self.demand, room)
            gain = (fill.worth - self.costs[stock]) / max(self.costs[stock], TINY)
            if gain > 1e-7 and (best is None or gain > best[0]):
                best = gain, Filling(stock, fill.counts)
        return best[1] if best else None

    def _pivot(self, enters: Filling | int) -> None:
        size = range(len(self.basis))
        if isinstance(enters, Filling):
            used = [(j, count) for j, count in enumerate(enters.counts) if count]
            step = [sum(row[j] * count for j, count in used) for row in self.inverse]
        else:
            step = [-row[enters] for row in self.inverse]
        ratios = [(self.amounts[i] / step[i], i) for i in size if step[i] > TINY]
        amount, leaves = min(ratios)
        pivot = step[leaves]
        row = [value / pivot for value in self.inverse[leaves]]
        for i in size:
            if i != leaves and step[i]:
                factor = step[i]
                self.inverse[i] = [value - factor * new for value, new in zip(self.inverse[i], row, strict=True)]
                self.amounts[i] = max(0.0, self.amounts[i] - factor * amount)
        self.inverse[leaves], self.amounts[leaves], self.basis[leaves] = row, amount, enters
