"""Finding an order of cuts: several partial orders side by side, each grown block by block.

A block is what is cut at one station without touching stop or fence. Two rules lose no order with fewer settings:
at a setting every cut that is free is made before anything is moved; and when all that is left of a setting is free,
and the setting that stands at that station is done with, it is made now (it must be set once more in any case, and is
then never set again). Both were held against every order of small trees (tests/plan/test_order_brute.py).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

BlockKey = tuple[str, int | None]
"""A station and the size set there; None where nothing is set."""

_MOST_LOOKED_AT = 12_000


@dataclass(frozen=True, slots=True)
class Block:
    """Cuts made one after another; `is_set`: the stop or fence is moved for them."""

    key: BlockKey
    tasks: tuple[int, ...]
    is_set: bool


@dataclass(frozen=True, slots=True)
class Found:
    """An order in blocks, with what it costs."""

    blocks: tuple[Block, ...]
    settings: int
    walks: int


@dataclass(frozen=True, slots=True)
class _State:
    """What is done (a bit each), where one stands, what is set at each station, and the cost so far."""

    done: int
    at: str
    held: tuple[tuple[str, int], ...]
    cost: tuple[int, int, int]
    least: tuple[int, int, int]
    before: _State | None
    block: Block | None


def find_blocks(keys: Sequence[BlockKey], after: Sequence[int | None], size: Sequence[int], width: int) -> Found:
    """The cheapest order that was found. size: how long each cut is, so that the long ones come first."""
    field = _Field(keys, after, size)
    width = max(6, min(width, _MOST_LOOKED_AT // max(1, len(keys))))
    front = [_State(0, "", (), (0, 0, 0), (0, 0, 0), None, None)]
    best: _State | None = None
    while front:
        ahead: dict[tuple[int, str, tuple[tuple[str, int], ...]], _State] = {}
        for state in front:
            if state.done == field.everything:
                best = state if best is None or state.cost < best.cost else best
                continue
            for grown in field.grown(state):
                mark = (grown.done, grown.at, grown.held)
                if mark not in ahead or grown.cost < ahead[mark].cost:
                    ahead[mark] = grown
        hopeful = [state for state in ahead.values() if best is None or state.least < best.cost]
        front = sorted(hopeful, key=lambda s: (s.least[0], s.least[1], -s.done.bit_count(), s.least[2]))[:width]
    if best is None:
        raise AssertionError("an order that never ends")
    return Found(_trail(best), best.cost[0], best.cost[1])


class _Field:
    """The cuts with what they wait for, as bits."""

    def __init__(self, keys: Sequence[BlockKey], after: Sequence[int | None], size: Sequence[int]) -> None:
        self.keys = keys
        self.everything = (1 << len(keys)) - 1
        self._first = [n for n, waits in enumerate(after) if waits is None]
        self._frees: list[list[int]] = [[] for _ in keys]
        for n, waits in enumerate(after):
            if waits is not None:
                self._frees[waits].append(n)
        self._of: dict[BlockKey, int] = {}
        for n, key in enumerate(keys):
            self._of[key] = self._of.get(key, 0) | 1 << n
        self._size = size

    def grown(self, state: _State) -> Iterator[_State]:
        """The state after each block that is worth trying next."""
        free = self._free(state.done)
        held = dict(state.held)
        here = [k for k in free if k[0] == state.at and (k[1] is None or held.get(k[0]) == k[1])]
        if here:
            yield self._after(state, here[0], free[here[0]])
            return
        last = [key for key in free if self._is_last(key, free[key], state, held)]
        for key in sorted(last, key=lambda k: -(k[1] or 0))[:1] or free:
            yield self._after(state, key, free[key])

    def _free(self, done: int) -> dict[BlockKey, list[int]]:
        """The cuts that can be made now, by station and size."""
        free: dict[BlockKey, list[int]] = {}
        waiting = list(self._first)
        while waiting:
            n = waiting.pop()
            if done >> n & 1:
                waiting.extend(self._frees[n])
            else:
                free.setdefault(self.keys[n], []).append(n)
        return free

    def _is_last(self, key: BlockKey, free: list[int], state: _State, held: dict[str, int]) -> bool:
        """Whether the setting can be finished for good here and now, with nothing to come back for at this station."""
        if key[0] != state.at or key[1] is None:
            return False
        stands = held.get(key[0])
        if stands is not None and self._of[key[0], stands] & ~state.done:
            return False
        return self._of[key] & ~state.done == sum(1 << n for n in self._closed(key, free))

    def _closed(self, key: BlockKey, free: list[int]) -> list[int]:
        """What is cut at a setting: all that is free and what this frees, piece by piece, the long cuts first."""
        made: list[int] = []
        waiting = sorted(free, key=lambda n: (self._size[n], -n))
        while waiting:
            n = waiting.pop()
            made.append(n)
            waiting += sorted((m for m in self._frees[n] if self.keys[m] == key), key=lambda m: (self._size[m], -m))
        return made

    def _after(self, state: _State, key: BlockKey, free: list[int]) -> _State:
        station, size = key
        held = dict(state.held)
        stands = held.get(station)
        settings, walks, backward = state.cost
        is_set = size is not None and stands != size
        if size is not None and is_set:
            settings += 1
            backward += stands is not None and size > stands
            held[station] = size
        walks += station != state.at and bool(state.at)
        block = Block(key, tuple(self._closed(key, free)), is_set)
        done = state.done | sum(1 << n for n in block.tasks)
        cost = (settings, walks, backward)
        return _State(done, station, tuple(sorted(held.items())), cost, self._least(done, held, cost), state, block)

    def _least(self, done: int, held: dict[str, int], cost: tuple[int, int, int]) -> tuple[int, int, int]:
        """What the whole order costs at least: every setting that is still needed and does not stand costs one."""
        more = sum(
            1 for key, cuts in self._of.items() if cuts & ~done and key[1] is not None and held.get(key[0]) != key[1]
        )
        return cost[0] + more, cost[1], cost[2]


def _trail(state: _State) -> tuple[Block, ...]:
    blocks: list[Block] = []
    here: _State | None = state
    while here is not None and here.block is not None:
        blocks.append(here.block)
        here = here.before
    return tuple(reversed(blocks))
