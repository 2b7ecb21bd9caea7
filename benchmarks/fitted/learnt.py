"""What a shop's book would hold after 20 measured parts and 10 untouched pairs of five-cut runs.

The parts were cut at five settings, four at each, of lengths over the range of the jobs, and read to 0.001 in. Scatters
are learnt as the book learns them: from their start, ten readings of common practice, and every deviation seen. The
scale's offset and slope are what the five settings leave of their priors.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from benchmarks.fitted.nature import STATED, Nature

from trued.measure.estimate import Source, Uncertain
from trued.measure.scatter import Scatter
from trued.shop.capability import Capability

INCH = 25.4
LENGTHS = (8.0, 12.0, 16.0, 20.0, 24.0)  # in
_READ_MM, _RUN_RAD = 0.01, 6e-5
"""u of a reading, and stated scatter of one five-cut run."""


def learnt(nature: Nature, holds: Capability) -> Capability:
    """The same capability after those parts and pairs."""
    groups = []
    for size in LENGTHS:
        setting = nature.one("setting")
        cut = [nature.length(size * INCH, setting) for _ in range(4)]
        groups.append([length - size * INCH + float(nature.rng.normal(0.0, _READ_MM)) for length in cut])
    repeat = Scatter(holds.stop_repeat_u_mm, 10)
    for group in groups:
        repeat = repeat.learn_repeats(group)
    offset, slope, setting_s = _scale(groups, holds, repeat)
    angle, angle_dof = _fence(nature)
    return replace(
        holds,
        stop_offset=offset,
        stop_slope=slope,
        setting_u_mm=setting_s.s,
        stop_repeat_u_mm=repeat.s,
        fence_angle=Uncertain.of(angle.value, Source("fence", "fence angle", angle.u, angle_dof)),
        dofs=(("stop-repeat", repeat.dof), ("setting", setting_s.dof)),
    )


def _scale(
    groups: Sequence[Sequence[float]], holds: Capability, repeat: Scatter
) -> tuple[Uncertain, Uncertain, Scatter]:
    """Offset and slope as one vector: the means of the settings weighed against what was assumed before."""
    x = np.array([[1.0, size * INCH] for size in LENGTHS])
    y = np.array([np.mean(group) for group in groups])
    own = repeat.s**2 / 4.0 + _READ_MM**2 / 4.0
    prior = np.diag([1.0 / STATED["offset"] ** 2, 1.0 / STATED["slope"] ** 2])
    setting, covariance, line = Scatter(holds.setting_u_mm, 10), np.eye(2), np.zeros(2)
    for _ in range(5):  # the scatter of settings and the line that they lie about, each from the other
        weight = 1.0 / (setting.s**2 + own)
        covariance = np.linalg.inv(prior + weight * x.T @ x)
        line = covariance @ (weight * x.T @ y)
        square = max(0.0, float(np.sum((y - x @ line) ** 2)) / 3.0 - own)
        setting = Scatter(holds.setting_u_mm, 10).learn([math.sqrt(square)] * 3)
    lower = np.linalg.cholesky(covariance)
    parts = [Source(f"scale:{i}", "stop scale", 1.0, setting.dof, pool="scale") for i in range(2)]
    offset = Uncertain(float(line[0]), {parts[0]: float(lower[0, 0])})
    slope = Uncertain(float(line[1]), {parts[0]: float(lower[1, 0]), parts[1]: float(lower[1, 1])})
    return offset, slope, setting


def _fence(nature: Nature) -> tuple[Uncertain, float]:
    """The mean of twenty runs; their scatter is learnt from the ten pairs. Afterwards the fence is set by it."""
    spread = _RUN_RAD * nature.spread["swing"] / STATED["swing"]  # a shop that swings more scatters more
    scatter, runs = Scatter(_RUN_RAD, 4), []
    for _ in range(10):
        pair = [nature.fence + float(nature.rng.normal(0.0, spread)) for _ in range(2)]
        scatter = scatter.learn_pair(*pair)
        runs += pair
    mean = float(np.mean(runs))
    nature.fence -= mean
    return Uncertain.of(0.0, Source("fence", "fence angle", scatter.s / math.sqrt(20.0))), scatter.dof
