"""One layout from one recipe: parts in a given order, each into the free piece that it fits best.

A recipe is what the search varies. The step from it to a layout is greedy and quick: copies of a part go side by side
in one strip as long as they fit, a strip is cut before what lies in it, and a new stock piece is opened only when no
free piece can take the part.
"""

from dataclasses import dataclass, field

from trued.plan.layout.free_pieces import FAR, REST, Room, open_bed
from trued.plan.layout.task import Lie, Task

FITS = 4
"""Ways to tell which free piece fits best."""
SPLITS = 5
"""Ways to tell which cut comes first."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """What makes one layout.

    order:  which part next, and how many copies of it in a row.
    fit:    0 the least left beside it on the shorter side, 1 the least area left, 2 the first stock piece that takes
            it, 3 the least left across the stock.
    split:  0 the largest piece left over, 1 rip first, 2 crosscut first, 3 the shorter rest first, 4 the longer.
    """

    order: tuple[tuple[int, int], ...]
    fit: int = 0
    split: int = 0


@dataclass(slots=True)
class Trial:
    """What a recipe came to: the beds opened, with the number of their stock, and the copies left over."""

    bins: list[tuple[int, Room]] = field(default_factory=list)
    missing: dict[int, int] = field(default_factory=dict)
    split: set[int] = field(default_factory=set)

    @property
    def complete(self) -> bool:
        """Every part is placed."""
        return not self.missing


def decode(task: Task, recipe: Recipe, bins: tuple[int, ...]) -> Trial:
    """The layout of a recipe on these stock pieces (numbers of stock, in the order in which they may be opened)."""
    return _Decoder(task, recipe, bins).run()


Spot = tuple[Room, Lie, int, int]
"""A room, the way to lie in it, and the place where it begins: the reference corner, or behind a defect."""


class _Decoder:
    __slots__ = ("bins", "copy", "free", "group_bin", "kerf", "recipe", "task", "trial", "unopened")

    def __init__(self, task: Task, recipe: Recipe, bins: tuple[int, ...]) -> None:
        self.task, self.recipe, self.bins = task, recipe, bins
        self.kerf = task.rules.kerf
        self.trial = Trial()
        self.free: list[Room] = []
        self.unopened = list(bins)
        self.copy = [0] * len(task.wants)
        self.group_bin: dict[int, int] = {}

    def run(self) -> Trial:
        for want, count in self.recipe.order:
            left = count
            while left:
                spot = self._spot(want)
                if spot is None:
                    self.trial.missing[want] = self.trial.missing.get(want, 0) + left
                    break
                left -= self._place(want, spot, left)
        return self.trial

    def _spot(self, want: int) -> Spot | None:
        group = self.task.groups[want]
        home = self.group_bin.get(group, -1) if group >= 0 else -1
        spot = self._best(want, home)
        if spot is None and home >= 0:  # its mates' piece is full
            self.trial.split.add(group)
            spot = self._best(want, -1)
        if spot is None:
            spot = self._open(want)
        if spot is not None and group >= 0:
            self.group_bin.setdefault(group, spot[0].bin)
        return spot

    def _open(self, want: int) -> Spot | None:
        """Open the next stock piece that can take the part."""
        seen: set[int] = set()
        for place, stock in enumerate(self.unopened):
            if stock in seen or not self.task.lies[stock][want]:
                continue
            seen.add(stock)
            room = open_bed(self.task.beds[stock], len(self.trial.bins))
            spot = self._best_in(room, self.task.lies[stock][want])
            if spot is not None:
                del self.unopened[place]
                self.trial.bins.append((stock, room))
                self.free.append(room)
                return spot
        return None

    def _best(self, want: int, only: int) -> Spot | None:
        best: Spot | None = None
        least: tuple[int, int] | None = None
        lies_of, bins, rate = self.task.lies, self.trial.bins, self._rate
        for room in self.free:
            if only >= 0 and room.bin != only:
                continue
            for lie in lies_of[bins[room.bin][0]][want]:
                over_x, over_y = room.length - lie[0], room.width - lie[1]
                if over_x < 0 or over_y < 0:
                    continue
                if (not over_x and room.state_x == REST) or (not over_y and room.state_y == REST):
                    continue
                rating = rate(room, lie, over_x, over_y)
                if least is not None and rating >= least:
                    continue
                spot = self._past_defects(room, lie) if room.defects else (room, lie, room.x, room.y)
                if spot is not None:
                    best, least = spot, rating
        return best

    def _best_in(self, room: Room, lies: tuple[Lie, ...]) -> Spot | None:
        for lie in lies:
            spot = self._past_defects(room, lie)
            if spot is not None:
                return spot
        return None

    def _rate(self, room: Room, lie: Lie, over_x: int, over_y: int) -> tuple[int, int]:
        fit = self.recipe.fit
        if fit == 0:
            return (over_x, over_y) if over_x < over_y else (over_y, over_x)
        if fit == 1:
            return (room.length * room.width - lie[0] * lie[1], 0)
        if fit == 2:
            return (room.bin, min(over_x, over_y))
        return (over_y, over_x)

    def _past_defects(self, room: Room, lie: Lie) -> Spot | None:
        """Where the part can lie in this room: at its reference corner, or behind cuts that free it of defects."""
        if not room.in_the_way(lie[0], lie[1]):
            return (room, lie, room.x, room.y)
        starts_x = {room.x, *(mark.end_x for mark in room.defects)}
        starts_y = {room.y, *(mark.end_y for mark in room.defects)}
        spots = [(x, y) for x in sorted(starts_x) for y in sorted(starts_y) if self._clear_from(room, lie, x, y)]
        if not spots:
            return None
        # The best way past leaves the most wood.
        return (room, lie, *max(spots, key=lambda spot: _left(room, *spot)))

    def _clear_from(self, room: Room, lie: Lie, x: int, y: int) -> bool:
        over_x, over_y = room.x + room.length - x - lie[0], room.y + room.width - y - lie[1]
        state_x = room.state_x if x == room.x or room.state_x == FAR else self.task.rest
        state_y = room.state_y if y == room.y or room.state_y == FAR else self.task.rest
        if over_x < (state_x == REST) or over_y < (state_y == REST):
            return False
        return not any(
            mark.x < x + lie[0] and x < mark.end_x and mark.y < y + lie[1] and y < mark.end_y for mark in room.defects
        )

    def _place(self, want: int, spot: Spot, left: int) -> int:
        """Cut out as many copies as lie side by side here, at most `left`; says how many."""
        room, lie, x, y = spot
        self.free.remove(room)
        room = self._shed(room, x, y)
        along_first = self._along_first(room, lie, left)
        strip = self._cut(room, lie[1] if along_first else lie[0], across=not along_first)
        size = lie[0] if along_first else lie[1]
        done = 0
        here: Room | None = strip
        while here is not None and done < left and (done == 0 or self._takes(here, lie)):
            piece = self._cut_from_strip(here, size, across=along_first)
            self.copy[want] += 1
            piece.part = (want, self.copy[want], lie[2])
            done += 1
            here = here.high if here is not piece else None
        if here is not None:
            self._keep(here)
        return done

    def _shed(self, room: Room, x: int, y: int) -> Room:
        """The piece that begins there, behind one cut along each axis that needs one."""
        for end, across in ((x, True), (y, False)):
            if end > (room.x if across else room.y):
                freed = room.shed(end, across=across, kerf=self.kerf, rest=self.task.rest)
                if room.low is not None:
                    self._keep(room.low)
                room = freed
        return room

    def _takes(self, room: Room, lie: Lie) -> bool:
        over_x, over_y = room.length - lie[0], room.width - lie[1]
        if over_x < 0 or over_y < 0 or (not over_x and room.state_x == REST) or (not over_y and room.state_y == REST):
            return False
        return not room.in_the_way(lie[0], lie[1])

    def _cut(self, room: Room, size: int, *, across: bool) -> Room:
        """The strip of this size off the room; the rest becomes free. No cut where the room has the size already."""
        if size == (room.length if across else room.width):
            return room
        strip = room.cut(size, across=across, kerf=self.kerf, rest=self.task.rest)
        if room.high is not None:
            self._keep(room.high)
        return strip

    def _cut_from_strip(self, strip: Room, size: int, *, across: bool) -> Room:
        if size == (strip.length if across else strip.width):
            return strip
        return strip.cut(size, across=across, kerf=self.kerf, rest=self.task.rest)

    def _keep(self, room: Room) -> None:
        """A piece too small for any part is not looked at again."""
        least = self.task.least[self.trial.bins[room.bin][0]]
        if room.length >= least[0] and room.width >= least[1]:
            self.free.append(room)

    def _along_first(self, room: Room, lie: Lie, left: int) -> bool:
        """Whether to rip a strip first and crosscut it, or the other way round."""
        over_x, over_y = room.length - lie[0] - self.kerf, room.width - lie[1] - self.kerf
        if over_y <= 0 or over_x <= 0:
            return over_x > 0
        split = self.recipe.split
        if split == 0:
            if left > 1:  # the way in which more copies lie in one strip
                by_x, by_y = over_x // (lie[0] + self.kerf), over_y // (lie[1] + self.kerf)
                if min(by_x, left - 1) != min(by_y, left - 1):
                    return by_x > by_y
            return max(room.length * over_y, over_x * lie[1]) >= max(over_x * room.width, lie[0] * over_y)
        if split in {1, 2}:
            return split == 1
        return (over_x < over_y) is (split == 3)


def _left(room: Room, x: int, y: int) -> int:
    return (room.x + room.length - x) * (room.y + room.width - y)
