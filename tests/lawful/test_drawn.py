"""A sample of the invented shops and jobs of benchmarks/lawful.py: no ticket breaks a hard rule."""

from collections import Counter

import pytest
from tests.lawful.drawn import drawn, looked_at

SEEDS = range(1, 81)
FIRST, STEP = SEEDS.start, 20


@pytest.mark.parametrize("first", range(FIRST, SEEDS.stop, STEP))
def test_drawn_shops_and_jobs_hold_the_hard_rules(first: int) -> None:
    for seed in range(first, first + STEP):
        assert looked_at(drawn(seed)).faults == [], seed


def test_the_sample_takes_every_way_out() -> None:
    """Or it would show nothing: every station, tickets that wait, holds, first steps, parts that are not made."""
    found: Counter[str] = Counter()
    for seed in SEEDS:
        plan = looked_at(drawn(seed)).plan
        if plan is None:
            continue
        found.update(ticket["station"] for ticket in plan["order"])
        found.update("waits" for ticket in plan["order"] if ticket["waits"])
        found.update("unchecked" for ticket in plan["order"] if ticket["unchecked"])
        found.update("steps" for ticket in plan["order"] if len(ticket["before"]) > 1)
        found.update("not made" for _ in plan["not_made"])
        found.update(problem["code"] for problem in plan["problems"])
    ways = ["sled", "rip fence", "guided saw", "hand saw", "waits", "unchecked", "steps", "not made", "knife", "blade"]
    assert all(found[way] for way in ways), found
