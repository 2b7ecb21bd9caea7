"""The fullest way to fill one board: a knapsack with a limit on each size, solved depth first."""

from collections.abc import Sequence
from dataclasses import dataclass

MOST_NODES = 30_000


@dataclass(frozen=True, slots=True)
class Fill:
    """How many of each size, what they are worth, and the most that any filling can be worth.

    `most` equals `worth` when every filling was looked at.
    """

    counts: tuple[int, ...]
    worth: float
    most: float


def fullest(
    lengths: Sequence[int], worths: Sequence[float], limits: Sequence[int], room: int, nodes: int = MOST_NODES
) -> Fill:
    """The filling of `room` that is worth most. Lengths hold their kerf, and so does the room. Worths may be whole."""
    order = sorted(
        (i for i in range(len(lengths)) if worths[i] > 0 and 0 < lengths[i] <= room and limits[i] > 0),
        key=lambda i: (-worths[i] / lengths[i], i),
    )
    search = _Filling([lengths[i] for i in order], [worths[i] for i in order], [limits[i] for i in order], nodes)
    search.run(room)
    counts = [0] * len(lengths)
    for place, count in enumerate(search.best):
        counts[order[place]] = count
    return Fill(
        tuple(counts), search.worth, search.worth if search.done else max(search.worth, search.ceiling(0, room))
    )


class _Filling:
    """The search, without recursion: counts go from the most down to none, size after size."""

    def __init__(self, lengths: list[int], worths: list[float], limits: list[int], nodes: int) -> None:
        self.lengths, self.worths, self.limits, self.nodes = lengths, worths, limits, nodes
        self.best: list[int] = [0] * len(lengths)
        self.worth: float = 0
        self.done = False
        self.shortest = [0] * len(lengths)  # of this size and those after it
        least = 0
        for place in range(len(lengths) - 1, -1, -1):
            least = min(least or lengths[place], lengths[place])
            self.shortest[place] = least

    def ceiling(self, place: int, room: int) -> float:
        """The most that sizes from `place` on can add, were the last one divisible (rounded up where whole)."""
        worth: float = 0
        for here in range(place, len(self.lengths)):
            length = self.lengths[here]
            count = min(self.limits[here], room // length)
            worth += count * self.worths[here]
            room -= count * length
            if count < self.limits[here]:
                value = self.worths[here]
                return worth + (-(-room * value // length) if isinstance(value, int) else room * value / length)
        return worth

    def run(self, room: int) -> None:
        """Depth first; a branch is left when its ceiling is not above the best."""
        size = len(self.lengths)
        counts = [0] * size
        waiting: list[tuple[int, int, float, int]] = [(0, room, 0, -1)]  # place, room, worth, count chosen before it
        while waiting and self.nodes > 0:
            self.nodes -= 1
            place, left, worth, chosen = waiting.pop()
            if place:
                counts[place - 1] = chosen
            if worth > self.worth:
                self.worth = worth
                self.best = [*counts[:place], *([0] * (size - place))]
            if place == size or left < self.shortest[place]:
                continue
            if worth + self.ceiling(place, left) <= self.worth + 1e-12:
                continue
            length, value = self.lengths[place], self.worths[place]
            most = min(self.limits[place], left // length)
            # Pushed from none up to the most, so that the most is looked at first.
            waiting += [(place + 1, left - n * length, worth + n * value, n) for n in range(most + 1)]
        self.done = not waiting
