"""What to do next where the noise is known: by the expected minutes until it is told to be in, some steps ahead.

The belief about (x, g) is taken for Gaussian from here on; all shops go side by side.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from benchmarks.virtual.exact import SURE, Bools, Moments
from benchmarks.virtual.lots import STEP_MM, TOLERANCE, Array
from scipy.special import ndtr, ndtri

RUN, MOVE = 15.0, 5.0  # minutes
TAIL, MIDDLE = 3, 3  # nodes beyond what would be proven, and within it
T95 = float(ndtri(SURE))


@dataclass(frozen=True, slots=True)
class Noise:
    """Variance of a run, variance of settling, the step of a move; by shop."""

    r: Array
    q: Array
    step: Array

    def repeated(self, n: int) -> Noise:
        """Each n times."""
        return Noise(np.repeat(self.r, n), np.repeat(self.q, n), np.repeat(self.step, n))


def settable(u: Array, step: Array) -> Array:
    """The nearest move that can be made; nought where it is less than half a step."""
    answer: Array = np.round(u / step) * step
    return answer


def best_move(m: Moments, step: Array) -> Array:
    """E[x g] / E[g^2], in steps."""
    return settable((m.x * m.g + m.xg) / (m.g**2 + m.gg), step)


def moved(m: Moments, u: Array, q: Array) -> Moments:
    """After the move u."""
    return Moments(m.x - m.g * u, m.g, m.xx - 2.0 * u * m.xg + u * u * m.gg + q, m.xg - u * m.gg, m.gg)


def found(m: Moments, z: Array, r: Array) -> Moments:
    """After a run."""
    s = m.xx + r
    kx, kg = m.xx / s, m.xg / s
    miss = z - m.x
    return Moments(m.x + kx * miss, m.g + kg * miss, m.xx * r / s, m.xg * r / s, m.gg - kg * m.xg)


def proven(m: Moments) -> Bools:
    """Whether it is in with the chance that proves."""
    sd = np.sqrt(m.xx)
    answer: Bools = ndtr((TOLERANCE - m.x) / sd) - ndtr((-TOLERANCE - m.x) / sd) >= SURE
    return answer


def may_move(m: Moments, u: Array) -> Bools:
    """Whether the side is known and the move is none too small."""
    answer: Bools = (ndtr(np.abs(m.x) / np.sqrt(m.xx)) >= SURE) & (u != 0.0)
    return answer


def bounds(m: Moments, r: Array) -> tuple[Array, Array, Array]:
    """(chance that the next run's mean lies below, within, above what would be proven by it)."""
    left = m.xx * r / (m.xx + r)
    margin = TOLERANCE - T95 * np.sqrt(left)
    sd = np.sqrt(np.maximum(m.xx - left, 1e-30))
    margin = np.where(1.96 * np.sqrt(left) > TOLERANCE, -1.0, margin)
    low = np.where(margin > 0.0, ndtr((-margin - m.x) / sd), ndtr(-m.x / sd))
    high = np.where(margin > 0.0, ndtr((m.x - margin) / sd), ndtr(m.x / sd))
    return low, np.maximum(0.0, 1.0 - low - high), high


def after(m: Moments, noise: Noise, pair: Bools, made: Bools, depth: int) -> Array:
    """Minutes to be expected after one more run from the belief m. `made`: that run makes the pair."""
    low, within, high = bounds(m, noise.r)
    ends = pair | made
    total = np.zeros_like(m.x)
    parts = [(low, (np.arange(TAIL) + 0.5) / TAIL, 0), (high, (np.arange(TAIL) + 0.5) / TAIL, 1)]
    sd = np.sqrt(m.xx + noise.r)
    for chance, places, side in parts:
        for place in places:
            p = np.clip(chance * place if side == 0 else 1.0 - chance * place, 1e-12, 1.0 - 1e-12)
            total += chance / TAIL * left(found(m, m.x + sd * ndtri(p), noise.r), noise, ends, depth)
    if ends.all():
        return total
    for place in (np.arange(MIDDLE) + 0.5) / MIDDLE:
        p = np.clip(low + within * place, 1e-12, 1.0 - 1e-12)
        v = left(found(m, m.x + sd * ndtri(p), noise.r), noise, ends, depth)
        total += np.where(ends, 0.0, within / MIDDLE * v)
    return total


def left(m: Moments, noise: Noise, pair: Bools, depth: int) -> Array:
    """Minutes to be expected from here on; 0 where it is proven."""
    again, move, _ = choices(m, noise, pair, depth)
    return np.where(proven(m) & pair, 0.0, np.minimum(again, move))


def choices(m: Moments, noise: Noise, pair: Bools, depth: int) -> tuple[Array, Array, Array]:
    """(minutes if it is run again, minutes if it is turned first, that move)."""
    u = best_move(m, noise.step)
    there = moved(m, u, noise.q)
    yes, no = np.ones_like(pair), np.zeros_like(pair)
    if depth == 0:
        move = MOVE + RUN + _last(there, noise, pair)
        low, _, high = bounds(m, noise.r)
        again = RUN + (low + high) * (move - np.where(pair, 0.0, RUN))
    else:
        again = RUN + after(m, noise, pair, yes, depth - 1)
        move = MOVE + RUN + after(there, noise, pair, no, depth - 1)
    return again, np.where(may_move(m, u), move, np.inf), u


def _last(m: Moments, noise: Noise, pair: Bools) -> Array:
    """What is left after the last run that is looked at: well aimed moves until one is proven, or one of them and as
    many runs as make its margin half of the tolerance; a run for the pair."""
    low, _, high = bounds(m, noise.r)
    aimed = Moments(np.zeros_like(m.x), m.g, noise.r + noise.q, 0.0 * m.x, m.gg)
    _, within, _ = bounds(aimed, noise.r)
    runs = np.maximum(1.0, (2.0 * T95 / TOLERANCE) ** 2 * noise.r)
    tail = np.minimum((MOVE + RUN) / np.maximum(within, 1e-3), MOVE + RUN * runs)
    answer: Array = (low + high) * tail + np.where(pair, 0.0, RUN)
    return answer


def step_of(radius_mm: Array) -> Array:
    """The step of a move as an angle."""
    answer: Array = STEP_MM / radius_mm
    return answer
