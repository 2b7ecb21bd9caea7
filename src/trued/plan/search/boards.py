"""Boards, where lengths alone decide: fill one board after the other as full as it goes, and learn what was hard.

A part that was left over is worth more in the next try, so that it is placed sooner (sequential value correction).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from trued.plan.bounds.board_patterns import Pattern
from trued.plan.bounds.boards import Lengths, lengths_of, rooms_of
from trued.plan.bounds.knapsack import fullest
from trued.plan.layout.free_pieces import FAR, Room, open_bed
from trued.plan.layout.task import Lie, Task
from trued.plan.rng import Rng
from trued.plan.search.decode import Trial

NODES = 3_000
"""Fillings looked at for one board."""


@dataclass(slots=True)
class BoardFiller:
    """Makes trials for a task of boards; `worths` is what it has learnt so far."""

    task: Task
    lengths: Lengths
    rooms: tuple[int, ...]
    worths: list[float]
    sizes: tuple[int, ...]
    chance: Rng

    def trial(self, bins: tuple[int, ...]) -> Trial:
        """One trial on these boards, in this order."""
        left = [want.copies for want in self.task.wants]
        boards: dict[int, int] = {}
        for stock in bins:
            boards[stock] = boards.get(stock, 0) + 1
        filled: list[tuple[int, tuple[int, ...]]] = []
        for stock in dict.fromkeys(bins):
            while boards[stock] and any(left):
                worths = [worth * (1 + self.chance.below(64) / 640) for worth in self.worths]
                counts = fullest(self.lengths[stock], worths, left, self.rooms[stock], NODES).counts
                if not any(counts):
                    break
                self._repeat(stock, counts, boards[stock], left, boards, filled)
        self._learn(left)
        return self._built(filled, left)

    def _repeat(
        self,
        stock: int,
        counts: tuple[int, ...],
        often: int,
        left: list[int],
        boards: dict[int, int],
        filled: list[tuple[int, tuple[int, ...]]],
    ) -> None:
        """Fill as many boards alike as the demand bears, one at least where it bears one."""
        most = min([often, boards.get(stock, 0), *(left[i] // count for i, count in enumerate(counts) if count)])
        if often > 1:  # leave some for other fillings, which may suit what is left better
            most = min(most, max(1, most - self.chance.below(2)))
        for _ in range(most):
            filled.append((stock, counts))
            boards[stock] -= 1
            for i, count in enumerate(counts):
                left[i] -= count

    def _learn(self, left: list[int]) -> None:
        for i, count in enumerate(left):
            target = self.sizes[i] * (1.15 if count else 1.0)
            self.worths[i] = 0.7 * self.worths[i] * (1.1 if count else 1.0) + 0.3 * target

    def built(self, patterns: Sequence[tuple[Pattern, int]]) -> Trial:
        """The trial of a plan in whole boards; a pattern that holds more than is still wanted is cut short."""
        left = [want.copies for want in self.task.wants]
        filled: list[tuple[int, tuple[int, ...]]] = []
        for pattern, number in patterns:
            for _ in range(number):
                counts = tuple(min(count, left[i]) for i, count in enumerate(pattern.counts))
                left = [left[i] - count for i, count in enumerate(counts)]
                if any(counts):
                    filled.append((pattern.stock, counts))
        return self._built(filled, left)

    def _built(self, filled: list[tuple[int, tuple[int, ...]]], left: list[int]) -> Trial:
        trial = Trial(missing={want: count for want, count in enumerate(left) if count})
        copies = [0] * len(left)
        for stock, counts in filled:
            root = open_bed(self.task.beds[stock], len(trial.bins))
            trial.bins.append((stock, root))
            here: Room | None = root
            for want in sorted(range(len(counts)), key=lambda w: (-self.sizes[w], w)):
                lie = min(self.task.lies[stock][want], default=None)
                for _ in range(counts[want]):
                    if here is not None and lie is not None:
                        copies[want] += 1
                        here = _cut_off(self.task, here, lie, (want, copies[want]))
        trial.split = _parted(self.task, filled)
        return trial


def _cut_off(task: Task, room: Room, lie: Lie, who: tuple[int, int]) -> Room | None:
    kerf, rest = task.rules.kerf, task.rest
    piece, high = room, None
    if lie[0] < room.length:
        piece = room.cut(lie[0], across=True, kerf=kerf, rest=rest)
        high = room.high
    if lie[1] < piece.width:
        piece = piece.cut(lie[1], across=False, kerf=kerf, rest=rest)
    piece.part = (*who, lie[2])
    return high


def _parted(task: Task, filled: list[tuple[int, tuple[int, ...]]]) -> set[int]:
    homes: dict[int, int] = {}
    for _, counts in filled:
        for group in {task.groups[want] for want, count in enumerate(counts) if count and task.groups[want] >= 0}:
            homes[group] = homes.get(group, 0) + 1
    return {group for group, number in homes.items() if number > 1}


def board_filler(task: Task) -> BoardFiller | None:
    """A filler for a task of boards; None where parts could lie side by side or a board needs more than lengths."""
    lengths = lengths_of(task)
    if lengths is None or any(_in_the_way(task, stock, here) for stock, here in enumerate(lengths)):
        return None
    rooms = rooms_of(task, lengths)
    sizes = tuple(want.length + task.rules.kerf for want in task.wants)
    return BoardFiller(task, lengths, rooms, [float(size) for size in sizes], sizes, Rng(task.rules.seed))


def _in_the_way(task: Task, stock: int, lengths: tuple[int, ...]) -> bool:
    """A defect, or a part as long as the board itself."""
    bed = task.beds[stock]
    as_long = bed.state_x != FAR and not task.rules.remainder and max(lengths) == bed.length + task.rules.kerf
    return bool(bed.defects) or as_long
