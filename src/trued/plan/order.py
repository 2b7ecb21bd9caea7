"""The order of cuts: fewest settings, then fewest walks between stations, then long before short.

A cut waits for the cut that frees its piece. Stop and fence keep their setting while one works elsewhere, so only a
change of the size set at a station counts as a setting. At a setting every cut that is free is made before anything
is moved: no order with fewer settings is lost by that (an exchange argument; see docs/order.md).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from trued.plan.order_bound import settings_bound
from trued.plan.station import Reach, Station, station_for
from trued.plan.tree import Axis, Cut, Sized, Used, Waste, walk

Key = tuple[Station, int | None]
"""A station and the size set there, in units; None where nothing is set (a trim on the sled or to a line)."""


@dataclass(frozen=True, slots=True)
class Task:
    """One cut of one stock piece, with the index of the cut it waits for (None: the piece is there from the start)."""

    used: Used
    cut: Cut
    key: Key
    after: int | None


@dataclass(frozen=True, slots=True)
class Done:
    """One cut in its place in the order; `setting` counts the settings of the whole order from 1, 0 for none."""

    task: Task
    index: int
    setting: int


@dataclass(frozen=True, slots=True)
class Order:
    """All cuts in order. `settings` were needed, no order needs fewer than `bound`; `walks` between stations."""

    cuts: tuple[Done, ...]
    settings: int
    bound: int
    walks: int


@dataclass(frozen=True, slots=True)
class _State:
    done: int
    at: Station | None
    keys: tuple[tuple[Station, int], ...]
    cost: tuple[int, int, int]
    trail: tuple[Key, ...]


def order_cuts(used: Sequence[Used], reach: Reach, width: int = 48) -> Order:
    """Order the cuts of a whole layout; `width` is how many partial orders are kept side by side."""
    tasks = tuple(_tasks(used, reach))
    bound = settings_bound([task.key for task in tasks], [task.after for task in tasks])
    best = _search(tasks, max(6, min(width, 6000 // max(1, len(tasks)))))
    cuts = tuple(_replay(tasks, best.trail))
    return Order(cuts, best.cost[0], bound, best.cost[1])


def _tasks(used: Sequence[Used], reach: Reach) -> Iterator[Task]:
    count = 0
    for piece in used:
        index: dict[int, int] = {}
        above: dict[int, int] = {}
        for node in walk(piece.tree):
            if not isinstance(node, Cut):
                continue
            index[id(node)] = count
            for child in (node.low, node.high):
                if isinstance(child, Cut):
                    above[id(child)] = count
            yield Task(piece, node, key_of(node, reach), above.get(id(node)))
            count += 1


def key_of(cut: Cut, reach: Reach) -> Key:
    """Station and size to set. A trim rip leaves its good side along the fence, so the fence is set to that side."""
    station = station_for(cut, reach)
    if cut.sized is not Sized.NONE:
        return station, cut.setting
    if cut.axis is Axis.ALONG and station is Station.RIP:
        good_low = cut.high is None or isinstance(cut.high, Waste)
        return station, cut.position if good_low else cut.span - cut.position - cut.kerf
    return station, None


def _search(tasks: Sequence[Task], width: int) -> _State:
    everything = (1 << len(tasks)) - 1
    front = [_State(0, None, (), (0, 0, 0), ())]
    while True:
        finished = [state for state in front if state.done == everything]
        if finished:
            return min(finished, key=lambda state: state.cost)
        ahead: dict[tuple[int, Station | None, tuple[tuple[Station, int], ...]], _State] = {}
        for state in front:
            for after in _steps(state, tasks):
                mark = (after.done, after.at, after.keys)
                if mark not in ahead or after.cost < ahead[mark].cost:
                    ahead[mark] = after
        front = sorted(ahead.values(), key=lambda s: (s.cost[0], s.cost[1], -s.done.bit_count(), s.cost[2]))[:width]


def _steps(state: _State, tasks: Sequence[Task]) -> Iterator[_State]:
    free = dict.fromkeys(task.key for _, task in _free(state.done, tasks))
    held = dict(state.keys)
    here = [key for key in free if key[0] is state.at and (key[1] is None or held.get(key[0]) == key[1])]
    for key in here[:1] or free:
        yield _after(state, key, tasks)


def _after(state: _State, key: Key, tasks: Sequence[Task]) -> _State:
    station, size = key
    held = dict(state.keys)
    settings, walks, shorter_first = state.cost
    if size is not None and held.get(station) != size:
        settings += 1
        shorter_first += size > held.get(station, size)
        held[station] = size
    walks += station is not state.at
    done, _ = _close(state.done, key, tasks)
    keys = tuple(sorted(held.items()))
    return _State(done, station, keys, (settings, walks, shorter_first), (*state.trail, key))


def _close(done: int, key: Key, tasks: Sequence[Task]) -> tuple[int, list[int]]:
    """Make every cut that is free at this setting, and those that this frees."""
    made: list[int] = []
    while True:
        now = [index for index, task in _free(done, tasks) if task.key == key]
        if not now:
            return done, made
        made += now
        for index in now:
            done |= 1 << index


def _free(done: int, tasks: Sequence[Task]) -> Iterator[tuple[int, Task]]:
    for index, task in enumerate(tasks):
        if not done >> index & 1 and (task.after is None or done >> task.after & 1):
            yield index, task


def _replay(tasks: Sequence[Task], trail: Sequence[Key]) -> Iterator[Done]:
    done, setting = 0, 0
    held: dict[Station, int] = {}
    number: dict[Station, int] = {}
    for station, size in trail:
        if size is not None and held.get(station) != size:
            setting += 1
            held[station], number[station] = size, setting
        done, made = _close(done, (station, size), tasks)
        for index in made:
            yield Done(tasks[index], index, number[station] if size is not None else 0)
