"""A sample of the invented shops and jobs of benchmarks/lawful.py: no ticket breaks a hard rule."""

from collections import Counter
from pathlib import Path

import pytest
from tests.lawful.drawn import drawn, looked_at
from tests.lawful.plans import faults, planned
from tests.lawful.trials import TRIALS

from trued.plan.stations import gate
from trued.plan.stations.steps import ABOVE_MM, Do, Step

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


RULES: dict[str, tuple[str, object, str]] = {
    "knife": ("reach.knife_fault", lambda *_: "", "knife"),
    "blade": ("reach.blade_fault", lambda *_: "", "blade is larger"),
    "sled forbidden": ("reach.sled_fault", lambda *_: None, "forbids"),
    "out": ("reach._out", lambda *_, **__: (), "is out"),
    "height": ("gate._height", lambda work, _: Step(Do.BLADE, work + ABOVE_MM), "too thick"),
    "tipping": ("gate._first_steps", lambda cut, must: (must, cut), "tip"),
    "end of a rip": ("gate.PUSH_NEWTON", 1e9, "end of the rip tips"),
    "keeper": ("gate.LEAST_KEEPER_MM", 0.0, "held by hand"),
    "guided saw": ("gate.THICK_BY_HAND_MM", 1e9, "thicker than a guided saw"),
}


@pytest.mark.parametrize("rule", RULES)
def test_a_planner_that_forgets_a_rule_is_seen(rule: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Or the checker would hold nothing: each gate taken out of the planner shows in the sample."""
    place, forgotten, said = RULES[rule]
    monkeypatch.setattr(f"trued.plan.stations.{place}", forgotten)
    for cached in (gate._on_the_sled, gate._at_the_fence):
        cached.cache_clear()
    try:
        assert any(said in fault for seed in range(1, 201) for fault in looked_at(drawn(seed)).faults)
    finally:
        for cached in (gate._on_the_sled, gate._at_the_fence):
            cached.cache_clear()


def test_a_planner_that_forgets_what_hands_can_carry_is_seen(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Too seldom in the sample: a heavy board with all the room behind the table, a trial of its own."""
    trial = next(trial for trial in TRIALS if trial.name == "rip of a heavy board that the hands would carry")
    monkeypatch.setattr(gate, "CARRY_NEWTON", 1e9)
    gate._at_the_fence.cache_clear()
    try:
        found = faults(planned(trial.job, trial.shop, tmp_path), trial.shop)
    finally:
        gate._at_the_fence.cache_clear()
    assert any("the start of the rip is held up with" in fault for fault in found)
