"""Lots of virtual fences, drawn all at once: what is hidden, what each run reads, where each turn lands.

Every figure is of our own making. Angles in rad, lengths in mm. The same shop gives the same errors to whoever asks:
the k-th run and the k-th lock of a session are drawn beforehand, so that two ways of going on can be compared.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Ints = NDArray[np.int64]
Bools = NDArray[np.bool_]
TOLERANCE = 2e-4
DIGIT_MM = 0.01  # last digit of caliper and indicator
STEP_MM = 0.01  # feelers are exchanged in steps of this at the screw
READS = 2  # at each end
CUTS = 4  # that count in one run
MOST_RUNS = 30
SESSIONS = 2
STRIP_MM = 25.0
ENGAGED_MM = {"start": 200.0, "end": 320.0}
EDGE_READS = 5  # of one marked edge, when the caliper is checked


def log_uniform(rng: np.random.Generator, shops: int) -> Array:
    """Yaw of one cut: evenly spread in its logarithm from 2e-5 to 3e-4."""
    return np.exp(rng.uniform(math.log(2e-5), math.log(3e-4), shops))


def two_kinds(rng: np.random.Generator, shops: int) -> Array:
    """Yaw of one cut in shops of two kinds: a well fitted bar (65 in 100: gamma of shape 4 with mean 6e-5) and a loose
    one (lognormal with median 1.4e-4, standard deviation of the logarithm 0.35).

    Written down before any start of the scatter was tried, and not looked at while one was chosen.
    """
    tight = rng.gamma(4.0, 1.5e-5, shops)
    loose = 1.4e-4 * np.exp(0.35 * rng.standard_normal(shops))
    return np.where(rng.random(shops) < 0.65, tight, loose)


LAWS = {"log-uniform": log_uniform, "two kinds": two_kinds}


@dataclass(frozen=True, slots=True)
class Lot:
    """Shops of one law and seed, one entry each. `x`: the corner at first, `thrown`: how far the event throws it.

    slack: on which side the play of the screw lies before it is ever turned. `cut`, `read`, `lock`: unit normals of the
    runs and locks to come, by shop, session and number.
    """

    x: Array
    thrown: Array
    response: Array
    settling: Array
    backlash: Array
    slack: Array
    yaw: Array
    caliper_mm: Array
    span_mm: Array
    radius_mm: Array
    play_mm: Array
    cut: Array
    read: Array
    lock: Array
    edge_mm: Array

    @property
    def shops(self) -> int:
        """How many."""
        return len(self.x)

    @property
    def run_variance(self) -> Array:
        """What one run really scatters by: four cuts, and two readings at each end with their last digit."""
        reading = (self.caliper_mm**2 + DIGIT_MM**2 / 12.0) * 2.0 / READS
        return self.yaw**2 / CUTS + reading / (4.0 * self.span_mm) ** 2

    def readings(self, who: Ints, x: Array, session: int, run: int) -> tuple[Array, Array]:
        """Widths of the strip in mm as read, at fence end and free end: (shop, reading) each."""
        turned = x + self.yaw[who] * self.cut[who, session, run] / math.sqrt(CUTS)
        taper = 4.0 * self.span_mm[who] * turned
        fence = STRIP_MM + np.maximum(0.0, -taper)  # a strip that would taper to nothing is cut wider
        noise = self.read[who, session, run] * self.caliper_mm[who, None, None]
        widths = np.stack((fence, fence + taper), axis=1)[:, :, None] + noise
        read = np.round(widths / DIGIT_MM) * DIGIT_MM
        return read[:, 0], read[:, 1]

    def angles(self, who: Ints, x: Array, session: int, run: int) -> Array:
        """What these readings come to: taper of the strip over four times its length."""
        fence, free = self.readings(who, x, session, run)
        answer: Array = (free.mean(axis=1) - fence.mean(axis=1)) / (4.0 * self.span_mm[who])
        return answer

    def settable(self, who: Ints, u: Array) -> Array:
        """The nearest move that feelers make at the screw, never nought."""
        step = STEP_MM / self.radius_mm[who]
        steps = np.maximum(1.0, np.round(np.abs(u) / step))
        answer: Array = steps * step * np.where(u > 0.0, 1.0, -1.0)
        return answer

    def landed(self, who: Ints, x: Array, u: Array, session: int, move: int, first: Bools) -> Array:
        """Where it stands after the move u, the place come to by opening; `first`: it was never turned before."""
        play = np.where(first & (self.slack[who] < 0.0), self.backlash[who], 0.0)
        answer: Array = x + play - self.response[who] * u + self.settling[who] * self.lock[who, session, move]
        return answer


def drawn(law: str, seed: int, shops: int) -> Lot:
    """The shops of one law and seed."""
    rng = np.random.default_rng([seed, len(law), *law.encode()])
    sign = np.where(rng.random((2, shops)) < 0.5, -1.0, 1.0)
    yaw = LAWS[law](rng, shops)
    caliper = rng.uniform(0.006, 0.025, shops)
    swing = yaw * 3.5 * np.exp(0.3 * rng.standard_normal(shops))
    share = np.array([[1.0], [0.7]])  # of the swing, at the start and at the end of the travel
    play = swing * share * np.array(list(ENGAGED_MM.values()))[:, None] + 0.01 * rng.standard_normal((2, shops))
    size = (shops, SESSIONS, MOST_RUNS)
    return Lot(
        x=sign[0] * rng.uniform(3e-4, 6e-3, shops),
        thrown=sign[1] * np.exp(rng.uniform(math.log(2e-4), math.log(8e-3), shops)),
        response=np.exp(0.25 * rng.standard_normal(shops)),
        settling=rng.uniform(1e-5, 6e-5, shops),
        backlash=np.where(rng.random(shops) < 0.4, rng.uniform(0.0, 1.5e-4, shops), 0.0),
        slack=np.where(rng.random(shops) < 0.5, -1.0, 1.0),
        yaw=yaw,
        caliper_mm=caliper,
        span_mm=rng.uniform(230.0, 380.0, shops),
        radius_mm=rng.uniform(250.0, 600.0, shops),
        play_mm=np.abs(np.round(np.maximum(0.0, play) / DIGIT_MM) * DIGIT_MM),
        cut=rng.standard_normal(size),
        read=rng.standard_normal((*size, 2, READS)),
        lock=rng.standard_normal(size),
        edge_mm=np.round((19.0 + caliper[:, None] * rng.standard_normal((shops, EDGE_READS))) / DIGIT_MM) * DIGIT_MM,
    )
