"""The search for an order against every order there is, on small random trees; and the bound against both."""

import heapq
import random
from collections.abc import Sequence

import pytest

from trued.plan.order.bound import settings_bound
from trued.plan.order.search import BlockKey, find_blocks

State = tuple[int, str, tuple[tuple[str, int], ...]]


def best_of_all(keys: Sequence[BlockKey], after: Sequence[int | None]) -> tuple[int, int]:
    """Fewest settings, then fewest walks, cut by cut over every state that any order can reach (Dijkstra)."""
    start: State = (0, "", ())
    best: dict[State, tuple[int, int]] = {start: (0, 0)}
    queue: list[tuple[tuple[int, int], State]] = [((0, 0), start)]
    while True:
        cost, state = heapq.heappop(queue)
        done, at, held = state
        if done == (1 << len(keys)) - 1:
            return cost
        for n, (station, size) in enumerate(keys):
            waits = after[n]
            if done >> n & 1 or (waits is not None and not done >> waits & 1):
                continue
            set_to = dict(held)
            settings = cost[0] + (size is not None and set_to.get(station) != size)
            walks = cost[1] + (at not in ("", station))
            if size is not None:
                set_to[station] = size
            ahead = (done | 1 << n, station, tuple(sorted(set_to.items())))
            if (settings, walks) < best.get(ahead, (len(keys) + 1, 0)):
                best[ahead] = settings, walks
                heapq.heappush(queue, ((settings, walks), ahead))


def drawn(seed: int) -> tuple[list[BlockKey], list[int | None]]:
    draw = random.Random(seed)
    count = draw.randint(1, 9)
    keys: list[BlockKey] = [(draw.choice(["sled", "rip fence"]), draw.choice([None, 1, 2, 3, 4])) for _ in range(count)]
    after = [None if n == 0 or draw.random() < 0.25 else draw.randrange(n) for n in range(count)]
    return keys, after


@pytest.mark.parametrize("seed", range(0, 300, 50))
def test_as_few_settings_and_walks_as_the_best_of_all_orders(seed: int) -> None:
    for one in range(seed, seed + 50):
        keys, after = drawn(one)
        found = find_blocks(keys, after, [1] * len(keys), 48)
        assert (found.settings, found.walks) == best_of_all(keys, after), (keys, after)
        assert settings_bound(keys, after) <= found.settings


def test_bound_is_nearly_always_reached_on_small_trees() -> None:
    reached = 0
    for seed in range(200):
        keys, after = drawn(seed)
        reached += settings_bound(keys, after) == find_blocks(keys, after, [1] * len(keys), 48).settings
    assert reached >= 196


def test_bound_counts_a_circle_at_one_station_once_more() -> None:
    # 18, then 14, then 18 again on one board: 18 must be set twice.
    assert settings_bound([("sled", 18), ("sled", 14), ("sled", 18)], [None, 0, 1]) == 3
    # With the rip fence between them the stop may stand where it is.
    assert settings_bound([("sled", 18), ("rip fence", 3), ("sled", 18)], [None, 0, 1]) == 2


def test_two_circles_that_share_a_setting_are_opened_by_it() -> None:
    sizes = (1, 2, 1, 3, 1)
    assert settings_bound([("sled", size) for size in sizes], [None, 0, 1, 2, 3]) == 4
    apart = [("sled", size) for size in (1, 2, 1, 3, 4, 3)]
    assert settings_bound(apart, [None, 0, 1, None, 3, 4]) == 6


def test_what_sets_nothing_costs_nothing() -> None:
    keys: list[BlockKey] = [("sled", None), ("guided saw", None), ("sled", 5)]
    assert settings_bound(keys, [None, 0, 1]) == 1
    found = find_blocks(keys, [None, 0, 1], [1, 1, 1], 48)
    assert (found.settings, found.walks) == (1, 2)


def test_core_too_large_to_be_tried_through_still_gives_a_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    # Six settings, each before and after each other one: five of them must be made twice.
    pairs = [(a, b) for a in range(6) for b in range(6) if a != b]
    keys: list[BlockKey] = [("sled", size) for pair in pairs for size in pair]
    after = [None if n % 2 == 0 else n - 1 for n in range(len(keys))]
    assert settings_bound(keys, after) == 6 + 5
    monkeypatch.setattr("trued.plan.order.bound.MOST_TRIED", 10)
    assert 6 < settings_bound(keys, after) < 6 + 5
