"""Sheet by sheet: each one filled as well as many tries can, before the next is opened.

Parts that were left over at the end are worth more in the next round, so that they find a place earlier (sequential
value correction). Strong where sheets must be filled to the last strip; weak at the last sheet, where the changes of
whole recipes in `search` do better.
"""

import math
from dataclasses import dataclass

from trued.plan.layout.free_pieces import Room
from trued.plan.layout.task import Task
from trued.plan.rng import Rng
from trued.plan.search.decode import FITS, SPLITS, Recipe, Trial, decode

NOISE = 64
LARGE_FIRST = 1.08
"""Power of the area that a part is worth; found by trial on the jobs of benchmarks/plan.py."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One stock piece as filled: its tree of rooms, and how many copies of which want lie in it."""

    stock: int
    root: Room
    placed: dict[int, int]


@dataclass(slots=True)
class SheetFiller:
    """Fills stock pieces one after the other; `worths` (of one copy of each want) is what it has learnt so far."""

    task: Task
    chance: Rng
    worths: list[float]

    def fill(self, bins: tuple[int, ...], left: list[int], tries: int) -> list[Sheet]:
        """The pieces in this order, each filled by the best of so many tries; takes what it places out of `left`."""
        sheets: list[Sheet] = []
        for stock in bins:
            sheet = self._fullest(stock, left, tries) if any(left) else None
            if sheet is not None:
                sheets.append(sheet)
                for want, count in sheet.placed.items():
                    left[want] -= count
        return sheets

    def refill(self, sheets: list[Sheet], bins: tuple[int, ...], left: list[int], tries: int) -> list[Sheet]:
        """Empty two or three pieces and fill them anew with what was in them and what was left over.

        Gives the new pieces and changes `left` if no more is left over than before; else nothing changes.
        """
        number = min(len(sheets), 2 + self.chance.below(2))
        places = list(range(len(sheets)))
        self.chance.shuffle(places)
        emptied, kept = places[:number], sorted(places[number:])
        pool = left.copy()
        for place in emptied:
            for want, count in sheets[place].placed.items():
                pool[want] += count
        spare = list(bins)
        for place in kept:
            spare.remove(sheets[place].stock)
        filled = self.fill(tuple(spare), pool, tries)
        if self._weigh(pool) > self._weigh(left):
            return sheets
        left[:] = pool
        return [sheets[place] for place in kept] + filled

    def _weigh(self, left: list[int]) -> int:
        return sum(count * want.length * want.width for count, want in zip(left, self.task.wants, strict=True))

    def trial(self, sheets: list[Sheet], left: list[int]) -> Trial:
        """The pieces as one trial."""
        trial = Trial([(sheet.stock, sheet.root) for sheet in sheets])
        trial.missing = {want: count for want, count in enumerate(left) if count}
        homes: dict[int, int] = {}
        for sheet in sheets:
            for group in {self.task.groups[want] for want in sheet.placed} - {-1}:
                homes[group] = homes.get(group, 0) + 1
        trial.split = {group for group, number in homes.items() if number > 1}
        return trial

    def again(self, sheet: Sheet, stock: int) -> Sheet | None:
        """The same parts on a piece of this stock, cut in another way; None where this try does not hold them all."""
        left = [sheet.placed.get(want, 0) for want in range(len(self.task.wants))]
        trial = decode(self.task, self._recipe(left), (stock,))
        return None if trial.missing or not trial.bins else Sheet(stock, trial.bins[0][1], sheet.placed)

    def _fullest(self, stock: int, left: list[int], tries: int) -> Sheet | None:
        best: Sheet | None = None
        most = -1.0
        for _ in range(tries):
            trial = decode(self.task, self._recipe(left), (stock,))
            if not trial.bins:
                return None
            placed = {w: n - trial.missing.get(w, 0) for w, n in enumerate(left) if n > trial.missing.get(w, 0)}
            worth = sum(self.worths[want] * count for want, count in placed.items())
            if worth > most:
                best, most = Sheet(stock, trial.bins[0][1], placed), worth
            if not trial.missing:
                break
        return best

    def _recipe(self, left: list[int]) -> Recipe:
        """What is left, by size in one of four senses, a little shuffled; some rows are parted."""
        sense = self.chance.below(4)
        items: list[tuple[float, int, int]] = []
        for want, count in enumerate(left):
            remaining = count
            while remaining:
                some = remaining if self.chance.happens(75) else 1 + self.chance.below(remaining)
                noise = 1 + self.chance.below(NOISE) / (2 * NOISE)
                items.append((-self._size(want, sense) * noise, want, some))
                remaining -= some
        items.sort()
        return Recipe(
            tuple((want, count) for _, want, count in items), self.chance.below(FITS), self.chance.below(SPLITS)
        )

    def _size(self, want: int, sense: int) -> float:
        part = self.task.wants[want]
        worth = self.worths[want] / (part.length * part.width)
        sizes = (part.length * part.width, max(part.length, part.width) ** 2, part.width**2, part.length**2)
        return sizes[sense] * worth**4

    def learn(self, left: list[int]) -> None:
        """What is left over now is worth more from now on."""
        for want, count in enumerate(left):
            self.worths[want] = 0.8 * self.worths[want] * (1.12 if count else 1.0) + 0.2 * _worth(self.task, want)


def sheets_of(trial: Trial) -> list[Sheet]:
    """A trial as sheets."""
    sheets = []
    for stock, root in trial.bins:
        placed: dict[int, int] = {}
        for room in rooms_with_parts(root):
            if room.part is not None:
                placed[room.part[0]] = placed.get(room.part[0], 0) + 1
        sheets.append(Sheet(stock, root, placed))
    return sheets


def number_copies(trial: Trial) -> None:
    """Number the copies of each want from 1 through all pieces; while sheets are exchanged they have no numbers."""
    copies: dict[int, int] = {}
    for _, root in trial.bins:
        for room in rooms_with_parts(root):
            if room.part is not None:
                want, _, turned = room.part
                copies[want] = copies.get(want, 0) + 1
                room.part = (want, copies[want], turned)


def rooms_with_parts(root: Room) -> list[Room]:
    """The rooms that are parts, in the order of the tree."""
    found, waiting = [], [root]
    while waiting:
        here = waiting.pop()
        if here.part is not None:
            found.append(here)
        waiting.extend(child for child in (here.high, here.low) if child is not None)
    return found


def sheet_filler(task: Task, seed: int) -> SheetFiller:
    """A filler that has learnt nothing yet."""
    return SheetFiller(task, Rng(seed), [_worth(task, want) for want in range(len(task.wants))])


def _worth(task: Task, want: int) -> float:
    """Of one copy: a little more than its area for the large ones, which are harder to place later."""
    part = task.wants[want]
    return float(math.pow(part.length * part.width, LARGE_FIRST))
