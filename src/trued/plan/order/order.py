"""The order of cuts: fewest settings, then fewest walks between stations, then long before short.

A cut waits for the cut that frees its piece. Stop and fence keep their setting while one works elsewhere, so only a
change of the size set at a station counts as a setting. A mark for the guided saw or the hand saw is no setting: each
is drawn by itself. How the order is found: order_search.py; docs/order.md.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from trued.plan.layout.cut_tree import Axis, Cut, Sized, Used, Waste, parts, walk
from trued.plan.order.bound import settings_bound
from trued.plan.order.search import Block, find_blocks
from trued.plan.stations.station import Reach, Ruling, Station, ruling_for

Key = tuple[Station, int | None]
"""A station and the size set there, in units; None where nothing is set (a trim on the sled, a line on the floor)."""


@dataclass(frozen=True, slots=True)
class Task:
    """One cut of one stock piece, with the index of the cut it waits for (None: the piece is there from the start)."""

    used: Used
    cut: Cut
    key: Key
    after: int | None
    ruling: Ruling


@dataclass(frozen=True, slots=True)
class ScheduledCut:
    """One cut in its place in the order; `setting` counts the settings of the whole order from 1, 0 for none."""

    task: Task
    index: int
    setting: int


@dataclass(frozen=True, slots=True)
class Lost:
    """A cut that no station may make, of one stock piece."""

    used: Used
    cut: Cut
    ruling: Ruling


@dataclass(frozen=True, slots=True)
class Order:
    """All cuts in order. `settings` were needed, no order needs fewer than `bound`; `walks` between stations.

    lost: cuts that no station may make; what would come of their pieces is not made.
    """

    cuts: tuple[ScheduledCut, ...]
    settings: int
    bound: int
    walks: int
    lost: tuple[Lost, ...] = ()


def order_cuts(used: Sequence[Used], reach: Reach, width: int = 48) -> Order:
    """Order the cuts of a whole layout; `width` is how many partial orders are kept side by side."""
    found_all = tuple(_tasks(used, reach))
    tasks = tuple(task for task in found_all if isinstance(task, Task))
    lost = tuple(one for one in found_all if isinstance(one, Lost))
    keys, after = [task.key for task in tasks], [task.after for task in tasks]
    found = find_blocks(keys, after, [task.cut.run for task in tasks], width)
    return Order(tuple(_placed(tasks, found.blocks)), found.settings, settings_bound(keys, after), found.walks, lost)


def key_of(cut: Cut, station: Station) -> Key:
    """Station and size to set. A trim rip leaves its good side along the fence, so the fence is set to that side."""
    if station in (Station.FLOOR, Station.HAND):
        return station, None
    if cut.sized is not Sized.NONE:
        return station, cut.setting
    if cut.axis is Axis.ALONG and station is Station.RIP:
        good_low = cut.high is None or isinstance(cut.high, Waste)
        return station, cut.position if good_low else cut.span - cut.position - cut.kerf
    return station, None


def _tasks(used: Sequence[Used], reach: Reach) -> Iterator[Task | Lost]:
    """Every cut that can be made, parents before children; one that cannot takes all below it with it, and the cuts
    above it that would only lead there."""
    count = 0
    for piece in used:
        above: dict[int, int] = {}
        made, lost = _ruled(piece, reach)
        yield from lost
        gone = {(part.want, part.copy) for one in lost for part in parts(one.cut)}
        for node, ruling in made:
            if gone and (held := {(part.want, part.copy) for part in parts(node)}) and held <= gone:
                continue
            below = (id(child) for child in (node.low, node.high) if isinstance(child, Cut))
            above.update(dict.fromkeys(below, count))
            yield Task(piece, node, key_of(node, ruling.station), above.get(id(node)), ruling)
            count += 1


def _ruled(piece: Used, reach: Reach) -> tuple[list[tuple[Cut, Ruling]], list[Lost]]:
    """The cuts of one stock piece that may be made, and those that none may, without what lies below these."""
    made: list[tuple[Cut, Ruling]] = []
    lost: list[Lost] = []
    never: set[int] = set()
    for node in walk(piece.tree):
        if not isinstance(node, Cut):
            continue
        below = [id(child) for child in (node.low, node.high) if isinstance(child, Cut)]
        ruling = ruling_for(node, reach, piece.stock) if id(node) not in never else None
        if ruling is not None and ruling.station is not Station.NONE:
            made.append((node, ruling))
            continue
        never.update(below)
        if ruling is not None:
            lost.append(Lost(piece, node, ruling))
    return made, lost


def _placed(tasks: Sequence[Task], blocks: Sequence[Block]) -> Iterator[ScheduledCut]:
    setting = 0
    number: dict[Station, int] = {}
    for block in blocks:
        station, size = block.key
        setting += block.is_set
        if block.is_set:
            number[Station(station)] = setting
        for index in block.tasks:
            yield ScheduledCut(tasks[index], index, number[Station(station)] if size is not None else 0)
