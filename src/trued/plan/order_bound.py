"""How few settings any order can do with.

Draw a graph of the settings, with an arrow from one to another where a cut of the first must come before a cut of the
second. Settings that do not lie on a circle cost one each; a circle needs at least one of its settings twice. So the
least is the number of settings plus, for each strongly connected core, the fewest settings whose removal opens every
circle in it (a least feedback vertex set).
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from itertools import combinations

EXACT_CORE = 12
"""Cores up to this many settings are solved by trying every set; of larger ones only that one is needed is said."""


def settings_bound(keys: Sequence[tuple[Hashable, int | None]], after: Sequence[int | None]) -> int:
    """Lower bound on the settings; keys with a size of None set nothing."""
    arrows = _arrows(keys, after)
    return len(arrows) + sum(_opened(core, arrows) for core in _cores(arrows))


def _arrows(keys: Sequence[tuple[Hashable, int | None]], after: Sequence[int | None]) -> dict[Hashable, set[Hashable]]:
    arrows: dict[Hashable, set[Hashable]] = {key: set() for key in keys if key[1] is not None}
    for index, key in enumerate(keys):
        if key[1] is None:
            continue
        parent = after[index]
        while parent is not None:
            before = keys[parent]
            if before[1] is not None:
                if before != key:
                    arrows[before].add(key)
                break
            parent = after[parent]
    return arrows


def _cores(arrows: dict[Hashable, set[Hashable]]) -> Iterator[frozenset[Hashable]]:
    """Strongly connected cores of two or more settings: those that reach each other."""
    reached = {key: _reach(key, arrows) for key in arrows}
    seen: set[Hashable] = set()
    for key in arrows:
        core = frozenset(other for other in reached[key] if key in reached[other]) if key in reached[key] else None
        if core and key not in seen:
            seen |= core
            yield core


def _reach(start: Hashable, arrows: dict[Hashable, set[Hashable]]) -> set[Hashable]:
    found: set[Hashable] = set()
    waiting = list(arrows[start])
    while waiting:
        here = waiting.pop()
        if here not in found:
            found.add(here)
            waiting.extend(arrows[here])
    return found


def _opened(core: frozenset[Hashable], arrows: dict[Hashable, set[Hashable]]) -> int:
    if len(core) > EXACT_CORE:
        return 1
    members = sorted(core, key=repr)
    for size in range(1, len(members)):
        if any(_open_without(set(members) - set(gone), arrows) for gone in combinations(members, size)):
            return size
    return len(members) - 1


def _open_without(left: set[Hashable], arrows: dict[Hashable, set[Hashable]]) -> bool:
    """Whether no circle is left among these settings: each can be taken once those before it are gone."""
    waiting = set(left)
    while waiting:
        first = {key for key in waiting if not any(key in arrows[other] for other in waiting if other != key)}
        if not first:
            return False
        waiting -= first
    return True
