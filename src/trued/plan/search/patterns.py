"""Boards by patterns: dives into the relaxation first, then whole boards out of every pattern that could still pay."""

from __future__ import annotations

from trued.plan.bounds.board_patterns import (
    Boards,
    Pattern,
    Relaxed,
    Whole,
    dive,
    listed,
    relax,
    whole_boards,
)
from trued.plan.bounds.boards import boards_of
from trued.plan.bounds.bound import Floor
from trued.plan.search.best import Best
from trued.plan.search.boards import BoardFiller

WORK = 150
"""Lengths times stocks that are priced for the effort of one layout."""
LIST_SHARE = 20
"""Patterns listed at most for each unit of effort left."""
LOOK = 3
"""Effort between two looks of the integer program up from its work, with few patterns."""
FEW = 200
"""So many patterns more cost so much again."""


def by_patterns(best: Best, filler: BoardFiller) -> None:
    """Look for cheaper boards with three quarters of the effort left, and note where no plan can be cheaper."""
    _Patterns(best, filler, boards_of(best.task, filler.lengths), best.spent + best.left * 3 // 4).run()


class _Patterns:
    """One search by patterns; it ends when nothing cheaper is possible or its share of the effort is spent."""

    def __init__(self, best: Best, filler: BoardFiller, boards: Boards, until: int) -> None:
        self.best, self.filler, self.boards, self.until = best, filler, boards, until
        self.pool: dict[Pattern, None] = {}
        self.plan: Whole | None = None
        self.each = 1 + len(boards.rooms) * len(boards.demand) // WORK

    def run(self) -> None:
        relaxed = relax(self.boards, self._over)
        if relaxed is None or not relaxed.ended:
            return
        least = -int(-(relaxed.cost - 1e-6 * self.boards.step) // self.boards.step) * self.boards.step
        self._learn(relaxed.patterns)
        while not self._over():
            self._dive(relaxed, least, self.best.spent + (self.until - self.best.spent) // 4)
            if self.plan is not None and (self.plan.cost <= least or self._finish(relaxed, least)):
                self.best.floor, self.best.every_way = Floor(self.plan.cost, None), True
                return

    def _dive(self, relaxed: Relaxed, least: int, until: int) -> None:
        while self.best.spent < until and self.best.left and (self.plan is None or self.plan.cost > least):
            plan = dive(self.boards, relaxed, self.best.chance, self._over)
            self.best.spend(1)
            if plan is not None:
                self._take(plan)

    def _over(self) -> bool:
        self.best.spend(self.each)
        return self.best.spent >= self.until or not self.best.left

    def _learn(self, patterns: tuple[tuple[Pattern, float], ...] | tuple[tuple[Pattern, int], ...]) -> None:
        self.pool.update((pattern, None) for pattern, _ in patterns)

    def _take(self, plan: Whole) -> None:
        self._learn(plan.patterns)
        self.best.tried += 1
        if self.plan is None or plan.cost < self.plan.cost:
            self.plan = plan
        self.best.consider(self.filler.built(plan.patterns), None)

    def _finish(self, relaxed: Relaxed, least: int) -> bool:
        """Whole boards out of all patterns within a gap that grows; whether the best plan is shown to be the least."""
        step, gap = self.boards.step, 0
        until = self.best.spent + (self.until - self.best.spent) // 2
        while self.best.spent < until and self.plan is not None and self.best.left:
            reach = min(least + gap * step, self.plan.cost - step) - relaxed.cost
            patterns, every = listed(self.boards, relaxed, reach, LIST_SHARE * (until - self.best.spent))
            self.best.spend(1 + len(patterns) // LIST_SHARE)
            columns = tuple(dict.fromkeys([*patterns, *self.pool]))
            room = max(1, until - self.best.spent)
            look = LOOK * (1 + len(columns) // FEW)
            plan, steps = whole_boards(
                self.boards, columns, start=self.plan, steps=1 + room // look, stop=self._time_is_up
            )
            self.best.spend(1 + min(room, steps * look))
            if plan is not None and plan.cost < self.plan.cost:
                self._take(plan)
            if plan is None or not plan.least or not every:
                return False
            if self.plan.cost - step - relaxed.cost <= reach + 1e-6 * step:
                return True  # what is cheaper than the plan is made of the patterns listed, and these make nothing
            gap = max(1, 2 * gap)
        return False

    def _time_is_up(self) -> bool:
        self.best.spend(0)
        return not self.best.left
