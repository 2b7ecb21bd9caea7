"""The exact posterior of what slipped in one session, by one who knows how this shop scatters, reads and settles.

The same priors as the program's own (trued.standing.filtered.slip), at most one slip in a session; the response is
a grid of its true law, x is normal given it. Play is taken by its mean square. So it is a bound and no rival.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from benchmarks.slipped.shop import LOG_SD, Sled

from trued.standing.filtered import slip
from trued.standing.filtered.slip import Slip

NODES = np.exp(np.linspace(-3.0, 3.0, 41) * LOG_SD)
WEIGHTS = np.exp(-0.5 * np.linspace(-3.0, 3.0, 41) ** 2)
FLAT = 1e-2  # standard deviation of x before anything is known


@dataclass(frozen=True)
class Step:
    """A run, or a move where `move`, with its `value`. `advised`: the move told before it (0.0: none); `quick`: a run
    that came too soon to have been cut. same, swapped, wide, still: what the case says of it."""

    value: float
    move: bool
    advised: float = 0.0
    quick: bool = False
    same: bool = False
    swapped: bool = False
    wide: bool = False
    still: bool = False


def posterior(sled: Sled, steps: Sequence[Step]) -> dict[Slip, float]:
    """The chance of each kind."""
    logs: dict[Slip, list[float]] = {}
    for kind, log_prior, case in _cases(steps):
        logs.setdefault(kind, []).append(log_prior + _log_chance(sled, case))
    top = max(max(some) for some in logs.values())
    each = {kind: math.fsum(math.exp(log - top) for log in some) for kind, some in logs.items()}
    total = math.fsum(each.values())
    return {kind: share / total for kind, share in each.items()}


def _cases(steps: Sequence[Step]) -> Iterator[tuple[Slip, float, list[Step]]]:
    """Each kind at each place: its prior, and the rows as they would really have been."""
    yield Slip.RIGHT, _recorded(steps), list(steps)
    for n, step in enumerate(steps):
        for kind, log_prior, instead in _instead(step, steps[n - 1] if n else None):
            really = [*steps[:n], *instead, *steps[n + 1 :]]
            if kind is Slip.FORGOTTEN:
                yield kind, log_prior + _recorded(steps), really
            elif kind is Slip.WAY and step.move:
                yield kind, log_prior + max(_recorded(steps), _recorded(really)), really
            else:
                yield kind, log_prior + _recorded(really), really


def _instead(step: Step, before: Step | None) -> Iterator[tuple[Slip, float, tuple[Step, ...]]]:
    """What may really have been in the place of one row."""
    if step.move:
        for factor in (0.1, 10.0):
            yield Slip.DECIMAL, math.log(slip.MISPLACES_POINT / 2.0), (replace(step, value=step.value * factor),)
        yield Slip.WAY, math.log(slip.TURNS_WRONG), (replace(step, value=-step.value),)
        yield Slip.STILL, math.log(slip.NOT_TOUCHING), (replace(step, still=True),)
        if before is not None and before.move and abs(before.value - step.value) <= slip.LIKE * abs(step.value):
            yield Slip.TWICE, math.log(slip.REPEATS_ENTRY), ()
        return
    yield Slip.WAY, math.log(slip.SWAPS_ENDS), (replace(step, swapped=True),)
    yield Slip.ELSE, math.log(slip.SOMETHING_ELSE), (replace(step, wide=True),)
    if before is not None:
        yield Slip.SAME, math.log(slip.READS_AGAIN), (replace(step, same=True),)
    if before is not None and not before.move:
        chance = slip.FORGETS if step.advised else slip.FORGETS_UNADVISED
        yield Slip.FORGOTTEN, math.log(chance), (Step(step.advised or before.value, move=True), step)


def _recorded(steps: Sequence[Step]) -> float:
    """Logarithm of how likely the moves between two runs are made where that was advised, and of how soon runs came."""
    log, turned, advised = 0.0, 0.0, 0.0
    for step in steps:
        if step.move:
            turned, advised = turned + step.value, advised or step.advised
            continue
        log += _log_quick(step) + _typed(turned, advised)
        turned = advised = 0.0
    return log + _typed(turned, advised)


def _typed(u: float, advised: float) -> float:
    if not advised or not u:
        return 0.0
    log = math.log(abs(u / advised))
    near = math.exp(-0.5 * (log / slip.NEAR) ** 2) / slip.NEAR
    far = math.exp(-0.5 * (log / slip.FAR) ** 2) / slip.FAR
    amount = ((1.0 - slip.FAR_SHARE) * near + slip.FAR_SHARE * far) / math.sqrt(2.0 * math.pi)
    return math.log(amount) + math.log(1.0 - slip.AGAINST if u * advised > 0.0 else slip.AGAINST)


def _log_quick(step: Step) -> float:
    chance = slip.QUICK_SAME if step.same else slip.QUICK_HONEST
    return math.log(chance if step.quick else 1.0 - chance)


def _log_chance(sled: Sled, steps: Sequence[Step]) -> float:
    """Logarithm of the density of all runs: at each node of the response x is normal. The state is (x, last strip)."""
    mean, var = np.zeros_like(NODES), np.full_like(NODES, FLAT**2)
    strip, strip_var, across = mean.copy(), np.full_like(NODES, FLAT**2), np.zeros_like(NODES)
    log = np.log(WEIGHTS / WEIGHTS.sum())
    for step in steps:
        if step.move:
            add = sled.settling**2 + sled.play**2 / 2.0
            if not step.still:
                mean = mean - NODES * step.value
            else:
                add += (slip.STILL_MOVES * step.value) ** 2
            var = var + add
            continue
        z = -step.value if step.swapped else step.value
        if step.wide:
            var = var + (slip.ELSE_SETTLINGS * 3e-5) ** 2
        if not step.same:  # a new strip is cut: what it shows is x and the scatter of its cuts
            strip, strip_var, across = mean.copy(), var + sled.run_s**2, var.copy()
        total = strip_var + sled.read_s**2
        miss = z - strip
        log = log - 0.5 * miss**2 / total - 0.5 * np.log(2.0 * math.pi * total)
        gain, gain_x = strip_var / total, across / total
        mean, var = mean + gain_x * miss, var - gain_x * across
        strip, across = strip + gain * miss, across * (1.0 - gain)
        strip_var = strip_var * (1.0 - gain)
    top = float(log.max())
    return top + math.log(float(np.exp(log - top).sum()))
