"""How few settings any order can do with.

Each station keeps its own setting while one works elsewhere, so each is looked at by itself. Draw a graph of its
settings, with an arrow from one to another where a cut of the first must come before a cut of the second. Settings
that are made only once cannot lie on a circle; so in a circle at least one is made twice. The least is the number of
settings plus, for each strongly connected core, the fewest settings whose removal opens every circle in it (a least
feedback vertex set). See docs/order.md.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from itertools import combinations

MOST_TRIED = 20_000
"""Sets of settings that are tried to open a core; what was not reached by then is left out of the bound."""

Arrows = dict[Hashable, set[Hashable]]


def settings_bound(keys: Sequence[tuple[Hashable, int | None]], after: Sequence[int | None]) -> int:
    """Lower bound on the settings. keys: station and size of each cut; a size of None sets nothing."""
    arrows = _arrows(keys, after)
    return len(arrows) + sum(_opened(core, arrows) for core in _cores(arrows))


def _arrows(keys: Sequence[tuple[Hashable, int | None]], after: Sequence[int | None]) -> Arrows:
    """From each setting to those of the same station that some cut of it must precede."""
    arrows: Arrows = {key: set() for key in keys if key[1] is not None}
    for index, key in enumerate(keys):
        parent = after[index] if key[1] is not None else None
        while parent is not None:
            before = keys[parent]
            if before[1] is not None and before[0] == key[0]:
                if before != key:
                    arrows[before].add(key)
                break  # what comes before that one has its own arrow to it
            parent = after[parent]
    return arrows


def _cores(arrows: Arrows) -> Iterator[frozenset[Hashable]]:
    """Strongly connected cores of two or more settings: those that reach each other."""
    reached = {key: _reach(key, arrows) for key in arrows}
    seen: set[Hashable] = set()
    for key in arrows:
        if key in reached[key] and key not in seen:
            core = frozenset(other for other in reached[key] if key in reached[other])
            seen |= core
            yield core


def _reach(start: Hashable, arrows: Arrows) -> set[Hashable]:
    found: set[Hashable] = set()
    waiting = list(arrows[start])
    while waiting:
        here = waiting.pop()
        if here not in found:
            found.add(here)
            waiting.extend(arrows[here])
    return found


def _opened(core: frozenset[Hashable], arrows: Arrows) -> int:
    """The fewest settings whose removal opens every circle; when too many sets would have to be tried, fewer."""
    members = sorted(core, key=repr)
    before = [sum(1 << n for n, other in enumerate(members) if key in arrows[other]) for key in members]
    tried = 0
    for size in range(1, len(members)):
        for gone in combinations(range(len(members)), size):
            if tried == MOST_TRIED:
                return size
            tried += 1
            if _is_open((1 << len(members)) - 1 - sum(1 << n for n in gone), before):
                return size
    raise AssertionError("one setting alone is no circle")


def _is_open(left: int, before: Sequence[int]) -> bool:
    """Whether no circle is left among these settings: each can be taken once those before it are gone."""
    while left:
        first = sum(1 << n for n, others in enumerate(before) if left >> n & 1 and not others & left)
        if not first:
            return False
        left &= ~first
    return True
