"""Scales for sheets: by area, and by dual feasible functions of both sides.

A dual feasible function f turns sizes into other sizes so that whatever fits together before also fits after. The
product of one for the length and one for the width weighs rectangles; the parts of any one sheet weigh at most its
capacity (S. P. Fekete and J. Schepers, *A combinatorial characterization of higher-dimensional orthogonal packing*,
Math. Oper. Res. 29 (2004); *New classes of fast lower bounds for bin packing problems*, Math. Program. 91 (2001)).
"""

from collections.abc import Callable
from dataclasses import dataclass

from trued.plan.layout.task import Lie, Task

MOST_STEPS = 8
MOST_KEPT = 40


@dataclass(frozen=True, slots=True)
class Weighing:
    """A scale by number: the weight of one copy of each want, the capacity of one piece of each stock, and the need."""

    name: str
    weights: tuple[int, ...]
    capacities: tuple[int, ...]
    need: int

    def passes(self, count: tuple[int, ...]) -> bool:
        """Whether so many pieces of each stock can hold what the parts weigh."""
        return self.need <= sum(number * capacity for number, capacity in zip(count, self.capacities, strict=True))


def weighing(task: Task, name: str, weights: tuple[int, ...], capacities: tuple[int, ...]) -> Weighing:
    """A scale with its need added up."""
    need = sum(want.copies * weight for want, weight in zip(task.wants, weights, strict=True))
    return Weighing(name, weights, capacities, need)


def area_scales(task: Task) -> list[Weighing]:
    """By area: all parts on all stock, and the parts that fit only some stock on that stock alone."""
    kerf = task.rules.kerf
    areas = tuple((want.length + task.rules.allowance + kerf) * (want.width + kerf) for want in task.wants)
    beds = tuple((bed.length + kerf) * (bed.width + kerf) for bed in task.beds)
    homes = [frozenset(s for s in range(len(task.stocks)) if task.lies[s][want]) for want in range(len(task.wants))]
    scales: list[Weighing] = []
    for home in [frozenset(range(len(task.stocks))), *sorted(set(homes), key=sorted)]:
        weights = tuple(area if homes[want] <= home else 0 for want, area in enumerate(areas))
        capacities = tuple(area if stock in home else 0 for stock, area in enumerate(beds))
        scales.append(weighing(task, "area", weights, capacities))
    return scales


Dual = Callable[[int, int], int]
"""Size and capacity, in units, to a share of `WHOLE` (rounded down)."""

WHOLE = 1 << 40


def _plain(size: int, capacity: int) -> int:
    return WHOLE * size // capacity


def _cap(step: float) -> Dual:
    """Sizes below the step count nothing, sizes that leave less than the step count as the whole."""

    def dual(size: int, capacity: int) -> int:
        edge = int(step * capacity)
        if size > capacity - edge:
            return WHOLE
        return WHOLE * size // capacity if size >= edge else 0

    return dual


def _stairs(count: int) -> Dual:
    """In steps of 1/count: floor((count + 1) x) / count, and x where (count + 1) x is whole."""

    def dual(size: int, capacity: int) -> int:
        steps, over = divmod(size * (count + 1), capacity)
        return WHOLE * steps // count if over else WHOLE * size // capacity

    return dual


def _count(step: float) -> Dual:
    """How many of the step's size could lie there: 1/n up to a half, and above it what is left for others."""

    def dual(size: int, capacity: int) -> int:
        edge = max(1, int(step * capacity))
        most = capacity // edge
        if 2 * size > capacity:
            return WHOLE - -(-WHOLE * ((capacity - size) // edge) // most)
        return WHOLE // most if size >= edge else 0

    return dual


def _duals(sizes: list[float]) -> list[tuple[str, Dual]]:
    steps = sorted({size for size in sizes if 0 < size <= 0.5})
    while len(steps) > MOST_STEPS:
        steps = steps[1::2] if len(steps) >= 2 * MOST_STEPS else steps[:MOST_STEPS]
    duals: list[tuple[str, Dual]] = [("size", _plain)]
    duals += [(f"steps of 1/{count}", _stairs(count)) for count in (1, 2, 3, 4)]
    duals += [(f"large from {step:.3f}", _cap(step)) for step in steps]
    return duals + [(f"count from {step:.3f}", _count(step)) for step in steps]


def sheet_scales(task: Task) -> list[Weighing]:
    """Products of dual feasible functions for the two sides, the strongest ones."""
    main = max(range(len(task.stocks)), key=lambda stock: task.beds[stock].area)
    lies = [lie for ways in task.lies[main] for lie in ways]
    bed, kerf = task.beds[main], task.rules.kerf
    along = _duals([(lie[0] + kerf) / (bed.length + kerf) for lie in lies])
    across = _duals([(lie[1] + kerf) / (bed.width + kerf) for lie in lies])
    scales = [
        _sheet_scale(task, f"area, {a} along and {b} across", f, g)
        for a, f in along
        for b, g in across
        if (f, g) != (_plain, _plain)
    ]
    scales = [scale for scale in scales if scale.capacities[main]]
    return sorted(scales, key=lambda scale: -scale.need / scale.capacities[main])[:MOST_KEPT]


def _sheet_scale(task: Task, name: str, along: Dual, across: Dual) -> Weighing:
    """Each stock's share is weighed with its area, so that small and large pieces stand on one scale."""
    kerf = task.rules.kerf

    def share(stock: int, lie: Lie) -> int:
        bed = task.beds[stock]
        first = along(lie[0] + kerf, bed.length + kerf)
        return first * across(lie[1] + kerf, bed.width + kerf) * (bed.area // WHOLE + 1)

    def weight(want: int) -> int:
        shares = [share(stock, lie) for stock, ways in enumerate(task.lies) for lie in ways[want]]
        return min(shares, default=0)

    capacities = tuple(WHOLE * WHOLE * (bed.area // WHOLE + 1) for bed in task.beds)
    return weighing(task, name, tuple(weight(want) for want in range(len(task.wants))), capacities)
