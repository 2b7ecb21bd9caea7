"""Running one check as a person types it, and counting how often its intervals hold the truth."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

import numpy as np

from trued.checks import find_check
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import chance_between
from trued.measure.instrument import Instrument
from trued.measure.sd_interval import spread_chance
from trued.procedure import Estimate, FeatureResult, Finding, RunInput, examine, take
from trued.units import Unit

TRUED = EstimatedSd(5e-5, 8, seen=4, pairs=1)  # a shop that has shown an untouched pair


def taken(check: str, typed: str | Sequence[str], unit: Unit = "in", **facts: str) -> RunInput:
    readings = typed.split() if isinstance(typed, str) else typed
    return take(find_check(check), readings, facts, unit=unit)


def run(check: str, typed: str | Sequence[str], unit: Unit = "in", **facts: str) -> Finding:
    return examine(taken(check, typed, unit, **facts))


def codes(finding: Finding) -> set[str]:
    return {seen.code for seen in finding.seen}


def acts(finding: Finding) -> dict[str, str]:
    return {seen.code: str(seen.act) for seen in finding.seen}


def estimate(finding: Finding, feature: str) -> Estimate:
    return next(e for e in finding.estimates if e.feature == feature)


def holds(found: FeatureResult, truth: float) -> bool:
    """Whether the 95 % interval holds the truth: it is equal-tailed, so 2.5 % or more lie beyond it."""
    if found.spread is not None:
        below = spread_chance(found.spread, None, truth)
    else:
        below = chance_between(found.value, None, truth)
    return 0.025 <= below <= 0.975


@dataclass(frozen=True)
class Simulated:
    """One simulated run: what was typed, and what is really the case, by feature."""

    check: str
    typed: Sequence[str]
    truth: Mapping[str, float]
    facts: Mapping[str, str] = field(default_factory=dict)
    scatter: EstimatedSd | None = None
    instruments: Sequence[Instrument] = ()


World = Callable[[np.random.Generator], Simulated]


def simulate(world: World, runs: int, seed: int) -> Iterator[tuple[Simulated, RunInput]]:
    rng, find = np.random.default_rng(seed), cache(find_check)
    for _ in range(runs):
        one = world(rng)
        check = find(one.check)
        yield one, take(check, one.typed, one.facts, instruments=one.instruments, unit="mm", scatter=one.scatter)


def coverage(world: World, runs: int, seed: int) -> dict[str, float]:
    """Share of the simulated runs whose 95 % interval holds the truth, by feature."""
    held: dict[str, int] = {}
    for one, run_taken in simulate(world, runs, seed):
        for found in run_taken.check.evaluate(run_taken):
            if found.feature in one.truth:
                held[found.feature] = held.get(found.feature, 0) + holds(found, one.truth[found.feature])
    return {feature: n / runs for feature, n in held.items()}


def sense_of(order: str) -> str:
    """Which way a fence turns, seen from above, whose left or right end moves away from or toward you."""
    said = re.search(r"[Mm]ove the (left|right) end of the fence (away from|toward) you", order)
    assert said is not None, order
    return "clockwise" if (said[1] == "left") == (said[2] == "away from") else "counter-clockwise"
