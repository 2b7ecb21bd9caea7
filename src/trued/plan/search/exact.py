"""Every way of cutting a small job, tried: what no search can promise, for jobs of a few parts.

For every set of parts, all smallest boxes that hold it are built from the boxes of its halves, side by side along or
across. A set fits a stock piece if one of its boxes does. What is left out of such a set can then be told for certain.

Two parts side by side need a little more than their sizes and a kerf, because the second gets a cut of its own: one
unit (0.1 nm) stands for that. A fit closer than a few units therefore counts as none.
"""

from dataclasses import dataclass, field
from itertools import product

from trued.plan.layout.free_pieces import FAR, REST, Bed, Room, open_bed
from trued.plan.layout.pieces import Rules
from trued.plan.layout.task import Lie, Task
from trued.plan.search.decode import Trial

Many = tuple[int, ...]
"""How many copies of each want."""

MOST_SETS = 1_500
MOST_WORK = 400_000
LEAST_WORK, WORK_PER_EFFORT = 30_000, 100
"""Pairs of boxes and shares that are looked at: so many and more with the effort, up to the most."""


class TooManyWaysError(Exception):
    """The job is too large to try every way; caught inside the search."""


@dataclass(frozen=True, slots=True)
class Box:
    """A smallest rectangle around some parts. `open_x`, `open_y`: that side holds room for the last part's own cut."""

    length: int
    width: int
    open_x: bool
    open_y: bool
    lie: Lie | None = None
    want: int = -1
    across: bool = False
    low: "Box | None" = None
    high: "Box | None" = None


@dataclass(slots=True)
class Ways:
    """All smallest boxes of every set of a task's parts on one stock."""

    task: Task
    stock: int
    bed: Bed
    stretch: bool = False
    boxes: dict[Many, list[Box]] = field(default_factory=dict)
    work: int = 0

    def fill(self) -> None:
        """Build the boxes of every set, the small sets first."""
        copies = [want.copies for want in self.task.wants]
        sets = 1
        for count in copies:
            sets *= count + 1
        if sets > MOST_SETS or self.bed.defects:
            raise TooManyWaysError
        every = sorted(product(*(range(count + 1) for count in copies)), key=sum)
        for many in every[1:]:
            self.boxes[many] = self._leaves(many) if sum(many) == 1 else self._joined(many)

    def _leaves(self, many: Many) -> list[Box]:
        want = many.index(1)
        boxes = [
            Box(lie[0], lie[1], open_x=False, open_y=False, lie=lie, want=want)
            for lie in self.task.lies[self.stock][want]
        ]
        return _smallest(boxes)

    def _joined(self, many: Many) -> list[Box]:
        most_x, most_y = self.limits()
        kerf, own_cut = self.task.rules.kerf, _own_cut(self.task.rules)
        found: list[Box] = []
        for part in product(*(range(count + 1) for count in many)):
            rest = tuple(count - here for count, here in zip(many, part, strict=True))
            if part > rest or not any(part):
                continue
            first, second = self.boxes[part], self.boxes[rest]
            self.work += len(first) * len(second) + 1
            for a in first:
                for b in second:
                    length, width = a.length + b.length + kerf + own_cut, max(a.width, b.width)
                    if length <= most_x and width <= most_y:
                        found.append(Box(length, width, own_cut > 0, _open(a, b, "y"), across=True, low=a, high=b))
                    length, width = max(a.length, b.length), a.width + b.width + kerf + own_cut
                    if length <= most_x and width <= most_y:
                        found.append(Box(length, width, _open(a, b, "x"), own_cut > 0, low=a, high=b))
        if self.work > _most_work(self.task.rules):
            raise TooManyWaysError
        return _smallest(found)

    def limits(self) -> tuple[int, int]:
        """The largest box that the bed takes."""
        own_cut = _own_cut(self.task.rules)
        steps = {FAR: own_cut, REST: -own_cut}
        most_x = self.bed.length + steps.get(self.bed.state_x, 0)
        return most_x * 2 if self.stretch else most_x, self.bed.width + steps.get(self.bed.state_y, 0)


def _most_work(rules: Rules) -> int:
    return min(MOST_WORK, LEAST_WORK + WORK_PER_EFFORT * rules.effort)


def _own_cut(rules: Rules) -> int:
    return 0 if rules.remainder else 1


def _open(a: Box, b: Box, side: str) -> bool:
    size_a, size_b = (a.length, b.length) if side == "x" else (a.width, b.width)
    open_a, open_b = (a.open_x, b.open_x) if side == "x" else (a.open_y, b.open_y)
    if size_a == size_b:
        return open_a and open_b
    return open_a if size_a > size_b else open_b


def _smallest(boxes: list[Box]) -> list[Box]:
    """Those that no other box is as small as in both sides."""
    kept: list[Box] = []
    for box in sorted(boxes, key=lambda b: (b.length, b.width)):
        if not kept or box.width < kept[-1].width:
            kept.append(box)
    return kept


class Exhaustive:
    """Answers whether given stock pieces can hold all parts of a task, with certainty or not at all."""

    def __init__(self, task: Task) -> None:
        self.task = task
        self.possible = True
        """False once the job has turned out to be too large."""
        self._ways: dict[int, Ways] = {}
        self._work = 0

    def ways(self, stock: int) -> Ways:
        """The boxes on one stock, built when first asked for."""
        if stock not in self._ways:
            ways = Ways(self.task, stock, self.task.beds[stock])
            ways.fill()
            self._ways[stock] = ways
        return self._ways[stock]

    def place(self, bins: tuple[int, ...]) -> Trial | None:
        """A complete trial on these stock pieces, or None: then there is none. Raises when there are too many ways."""
        try:
            return self._place(bins)
        except TooManyWaysError:
            self.possible = False
            raise

    def _place(self, bins: tuple[int, ...]) -> Trial | None:
        whole = tuple(want.copies for want in self.task.wants)
        sets = self._share(0, bins, whole, set())
        if sets is None:
            return None
        trial = Trial()
        copies = [0] * len(whole)
        for stock, many in zip(bins, sets, strict=False):
            if any(many):
                bed = self.ways(stock).bed
                root = open_bed(bed, len(trial.bins))
                trial.bins.append((stock, root))
                self.realise(root, self.ways(stock).boxes[many][0], copies)
        trial.split = self._parted(sets)
        return trial

    def _parted(self, sets: list[Many]) -> set[int]:
        homes: dict[int, set[int]] = {}
        for number, many in enumerate(sets):
            for want, count in enumerate(many):
                if count and self.task.groups[want] >= 0:
                    homes.setdefault(self.task.groups[want], set()).add(number)
        return {group for group, places in homes.items() if len(places) > 1}

    def _share(self, place: int, bins: tuple[int, ...], left: Many, dead: set[tuple[int, Many]]) -> list[Many] | None:
        """Sets for the stock pieces from `place` on that hold all that is left."""
        if not any(left):
            return []
        if place == len(bins) or (place, left) in dead:
            return None
        boxes = self.ways(bins[place]).boxes
        for many in sorted(product(*(range(count + 1) for count in left)), key=sum, reverse=True):
            self._work += 1
            if self._work > _most_work(self.task.rules):
                raise TooManyWaysError
            if any(many) and not boxes[many]:
                continue
            rest = tuple(count - here for count, here in zip(left, many, strict=True))
            sets = self._share(place + 1, bins, rest, dead)
            if sets is not None:
                return [many, *sets]
        dead.add((place, left))
        return None

    def realise(self, room: Room, box: Box, copies: list[int]) -> None:
        """Cut a room as the box says."""
        kerf, rest = self.task.rules.kerf, self.task.rest
        if box.low is None or box.high is None:
            self._take(room, box, copies)
            return
        size, is_open = (box.low.length, box.low.open_x) if box.across else (box.low.width, box.low.open_y)
        other = box.high.length if box.across else box.high.width
        if is_open:  # no part has this size: free the piece, with as much room for its last cut as there is
            spare = (room.length if box.across else room.width) - size - kerf - other
            size += max(0, min(kerf, spare))
            room.shed((room.x if box.across else room.y) + size + kerf, across=box.across, kerf=kerf, rest=rest)
        else:
            room.cut(size, across=box.across, kerf=kerf, rest=rest)
        for piece, inner in ((room.low, box.low), (room.high, box.high)):
            if piece is not None:
                self.realise(piece, inner, copies)

    def _take(self, room: Room, box: Box, copies: list[int]) -> None:
        kerf, rest = self.task.rules.kerf, self.task.rest
        here = room
        across_first = room.length - box.length > room.width - box.width
        for across in (across_first, not across_first):
            size, span = (box.length, here.length) if across else (box.width, here.width)
            if size < span:
                here = here.cut(size, across=across, kerf=kerf, rest=rest)
        copies[box.want] += 1
        here.part = (box.want, copies[box.want], box.lie is not None and box.lie[2])


def shortfall(task: Task, stock: int) -> int | None:
    """How much longer this one piece would have to be to hold every part; None where that cannot be told."""
    if not all(task.lies[stock]):
        return None
    ways = Ways(task, stock, task.beds[stock], stretch=True)
    try:
        ways.fill()
    except TooManyWaysError:
        return None
    boxes = ways.boxes[tuple(want.copies for want in task.wants)]
    return max(0, boxes[0].length - ways.limits()[0] // 2) if boxes else None
