"""How people set a fence without this tool: by feel, by full correction, by Grubbs' harmonic rule.

All three stop on the same evidence: a run within the tolerance, then one more such run with nothing touched (or, in the
other version, on the first such run). Each turns the other way once a move has made it much worse.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from random import Random

from benchmarks.virtual.sled import LENGTH_IN, Sled
from benchmarks.virtual.told import MOST_RUNS, TOLERANCE, Told

Rule = Callable[[float, int, Random], float]
MUCH_WORSE = 1.3


def by_feel(z: float, _n: int, rng: Random) -> float:
    """About what was seen: half as much or one and a half times as much are common."""
    return z * math.exp(rng.gauss(0.0, 0.5))


def full(z: float, _n: int, _rng: Random) -> float:
    """All of what was seen, each time."""
    return z


def grubbs(z: float, n: int, _rng: Random) -> float:
    """1/n of the n-th deviation (F. E. Grubbs, 1954)."""
    return z / n


RULES: dict[str, Rule] = {"by feel": by_feel, "full correction": full, "Grubbs' rule": grubbs}


def set_by(rule: Rule, sled: Sled, rng: Random, evidence: int) -> Told:
    """Measure and turn until `evidence` runs in a row, with nothing touched, lay within the tolerance."""
    told, way, n, before, in_row = Told(), 1.0, 0, 0.0, 0
    for _ in range(MOST_RUNS):
        z = angle_of(sled.five_cut())
        told.runs += 1
        if abs(z) <= TOLERANCE:
            in_row += 1
            if in_row >= evidence:
                return told.ended(sled.x, "seen in")
            continue
        in_row = 0
        if n and abs(z) > max(MUCH_WORSE * abs(before), 2.0 * TOLERANCE):
            way, n = -way, 0
        n, before = n + 1, z
        was = sled.x
        sled.turn(sled.can_turn(way * rule(z, n, rng)))
        told.turned(was, sled.x)
    return told.ended(sled.x, "gave up")


def angle_of(typed: tuple[str, ...]) -> float:
    """Taper of the strip over four times its length."""
    ends = {"fence_end": [0.0], "free_end": [0.0]}
    for word in typed:
        name, _, text = word.partition("=")
        if name in ends:
            ends[name].append(float(text))
    fence, free = (sum(values) / (len(values) - 1) for values in ends.values())
    return (free - fence) / (4.0 * LENGTH_IN)
