"""What seven checks ask: sizes that are doubted when they lie outside, how often to read, how long it takes.

All of it is common practice, said here once more in the units of the trade: a strip of 3/16 to 3 in, a panel of 3 to
51 in, a board of 1 to 16 in; a slip of unit lies 25.4 times away from any of them.
"""

import pytest

from trued.checks import find_check
from trued.procedure import examine, take

EXPECTED: dict[str, dict[str, tuple[float, float]]] = {
    "five-cut": {**dict.fromkeys(("fence_end", "middle", "free_end"), (4, 80)), "length": (75, 1300)},
    "flip": {"board": (25, 400), "apart": (100, 2500), "gap": (0, 6)},
    "stop-repeat": {},
    "stop-scale": {},
    "detent-repeat": {"reach": (75, 1300), "opening": (-12, 12), "closing": (-12, 12)},
    "detent-angle": {"piece": (40, 700), "width": (12, 200), "gap": (0, 20)},
    "support": {"weight": (0, 60), "held": (0, 60), "span": (75, 2000)},
}
READ: dict[str, dict[str, int]] = {
    "five-cut": {"fence_end": 2, "middle": 2, "free_end": 2},
    "flip": {"board": 2, "gap": 2},
    "stop-repeat": {"part": 5, "relocked": 4},
    "stop-scale": {},
    "detent-repeat": {"opening": 5, "closing": 5},
    "detent-angle": {"piece": 4, "gap": 2},
    "support": {},
}
ONCE_AT_LEAST_AND_MOST = {
    "flip": {"where": (1, 1)},
    "stop-repeat": {"set": (1, 1), "part": (2, 50), "relocked": (1, 50)},
    "detent-repeat": {"reach": (1, 3), "opening": (2, 30), "closing": (2, 30)},
    "detent-angle": {"swung": (1, 1), "piece": (3, 24), "where": (1, 1)},
}
MINUTES = {
    "five-cut": 15, "flip": 4, "stop-repeat": 8, "stop-scale": 8, "detent-repeat": 10, "detent-angle": 25,
    "support": 12,
}  # fmt: skip
OPTIONAL = {
    "stop-repeat": {"relocked"},
    "five-cut": {"middle"}, "flip": {"mark"}, "detent-angle": {"ends"}, "support": {"side", "weight", "held", "span"},
}  # fmt: skip
OF_SEVERAL = {  # named again it is another part or engagement, not the same thing read twice
    "stop-repeat": {"part", "relocked"}, "stop-scale": {"measured"}, "detent-repeat": {"opening", "closing"},
    "detent-angle": {"piece"},
}  # fmt: skip
VERSION = {"stop-repeat": 2, "stop-scale": 2}
START = {"five-cut": 6e-5, "flip": 1e-4, "detent-angle": 5e-5}
TOLERANCES = {  # in the words of the trade, turned into mm and rad by hand
    "five-cut": {"fence-angle": 0.0024 / 12},
    "flip": {"fence-angle": 0.0024 / 12},
    "stop-repeat": {"stop-repeat": 0.0015 * 25.4, "stop-offset": 0.005 * 25.4},
    "stop-scale": {"stop-offset": 0.005 * 25.4, "stop-slope": 0.0003},
    "detent-repeat": {"detent-repeat": 0.02 * 3.14159265 / 180, "detent-backlash": 0.02 * 3.14159265 / 180},
    "detent-angle": {"detent-angle": 0.02 * 3.14159265 / 180},
}


@pytest.mark.parametrize("id", sorted(EXPECTED))
def test_sizes_and_counts_are_those_of_the_trade(id: str) -> None:
    check = find_check(id)
    assert {ask.name: ask.expect for ask in check.asks if ask.expect} == EXPECTED[id]
    assert {ask.name: ask.advise for ask in check.asks if ask.advise > 1} == READ[id]
    assert {ask.name: ask.need for ask in check.asks if ask.need != (1, 20)} == ONCE_AT_LEAST_AND_MOST.get(id, {})
    assert {ask.name for ask in check.asks if ask.optional} == OPTIONAL.get(id, set())
    assert {ask.name for ask in check.asks if not ask.one_thing} == OF_SEVERAL.get(id, set())
    assert check.version == VERSION.get(id, 1) and check.minutes == MINUTES[id]


@pytest.mark.parametrize("id", sorted(START))
def test_the_scatter_that_a_new_book_starts_with(id: str) -> None:
    """From 0.0005 to 0.001 in per foot for what is seated at every cut; known like from four runs."""
    between = find_check(id).between_runs
    assert between is not None and between.start.s == pytest.approx(START[id]) and between.start.dof == 4


@pytest.mark.parametrize("id", sorted(TOLERANCES))
def test_the_tolerance_that_counts_when_nobody_names_another(id: str) -> None:
    check = find_check(id)
    for found in examine(take(check, check.example.given)).founds:
        assert found.limits is not None and found.limits.high == pytest.approx(TOLERANCES[id][found.feature])
        assert found.limits.low is None or found.limits.low == pytest.approx(-TOLERANCES[id][found.feature])
