"""Where scatter comes from: variance components of readings taken again, of runs repeated, of several hands.

One-way random model (readings within runs) and two-way crossed random model with repeats (hands by parts by trials), by
analysis of variance. A component that comes out below 0 is taken as 0. Sums are taken exactly, as in `line`.

Sources: Searle, Casella, McCulloch, Variance Components (1992), from memory; AIAG Measurement Systems Analysis, 4th
ed., ch. III-B (gauge study, crossed). Checked against NIST StRD data and the AIAG study in the tests.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from trued.measure.distribution.student import beta_regularised

POOLING_LEVEL = 0.05
_NOUGHT = Fraction(0)


@dataclass(frozen=True, slots=True)
class OneWay:
    """Analysis of groups of readings: sums of squares, and the two variances that make them.

    `within` is the variance of one reading in its group, `between` what the groups add. `chance` is that of an F as
    large when the groups add nothing.
    """

    between_ss: float
    within_ss: float
    between_dof: int
    within_dof: int
    between: float
    within: float
    f: float
    chance: float

    @property
    def total(self) -> float:
        """Variance of one reading of one new group."""
        return self.between + self.within

    @property
    def share_between(self) -> float:
        """Part of the total that lies between the groups; 0 where nothing varies."""
        return self.between / self.total if self.total > 0.0 else 0.0


def one_way(groups: Sequence[Sequence[float]]) -> OneWay:
    """Two groups or more, of unlike size if need be, one of them with two readings or more; ValueError otherwise."""
    sizes = [len(group) for group in groups]
    count, total = len(sizes), sum(sizes)
    if count < 2 or min(sizes, default=0) < 1 or total <= count:
        raise ValueError("variance components need two groups or more, and readings repeated in one of them at least")
    values = [[Fraction(v) for v in group] for group in groups]
    means = [sum(group) / len(group) for group in values]
    grand = sum(sum(group) for group in values) / total
    between_ss = sum(n * (mean - grand) ** 2 for n, mean in zip(sizes, means, strict=True))
    within_ss = sum((v - mean) ** 2 for group, mean in zip(values, means, strict=True) for v in group)
    between_ms, within_ms = between_ss / (count - 1), within_ss / (total - count)
    typical = (total - Fraction(sum(n * n for n in sizes), total)) / (count - 1)  # readings of a group, where unlike
    f = float(between_ms / within_ms) if within_ms else math.inf if between_ms else 0.0
    return OneWay(
        between_ss=float(between_ss),
        within_ss=float(within_ss),
        between_dof=count - 1,
        within_dof=total - count,
        between=max(0.0, float((between_ms - within_ms) / typical)),
        within=float(within_ms),
        f=f,
        chance=f_beyond(f, count - 1, total - count),
    )


@dataclass(frozen=True, slots=True)
class Crossed:
    """Analysis of parts read by several hands several times: sums of squares by source, F, and variances.

    `pooled`: the interaction told nothing (its chance was above the level) and went into the repeatability.
    """

    sums: Mapping[str, float]
    dofs: Mapping[str, int]
    interaction_f: float
    interaction_chance: float
    pooled: bool
    part: float
    hand: float
    interaction: float
    repeatability: float

    @property
    def measuring(self) -> float:
        """Variance of measuring: repeatability, hands and their interaction (gauge R&R)."""
        return self.repeatability + self.hand + self.interaction

    @property
    def total(self) -> float:
        """Variance of one reading of one part."""
        return self.measuring + self.part

    @property
    def categories(self) -> int:
        """How many classes of parts this measuring can tell apart: 1.41 times part over measuring, rounded down."""
        return math.floor(1.41 * math.sqrt(self.part / self.measuring)) if self.measuring > 0.0 else 0


def crossed(cells: Mapping[tuple[str, str], Sequence[float]], *, level: float = POOLING_LEVEL) -> Crossed:
    """Readings by (part, hand), equally many in each, two or more, for every part and every hand.

    The rule of pooling: when an interaction as large comes by chance with more than `level`, its sum of squares and
    freedom are added to those of the repeats, and all is judged against that (AIAG). The rule is part of the result:
    without it the repeatability of the AIAG study is 7 % larger.
    """
    parts, hands, times = _design(cells)
    values = {key: [Fraction(v) for v in readings] for key, readings in cells.items()}
    p, h = len(parts), len(hands)
    grand = sum((x for v in values.values() for x in v), _NOUGHT) / (p * h * times)
    part_means = [sum((x for hand in hands for x in values[part, hand]), _NOUGHT) / (h * times) for part in parts]
    hand_means = [sum((x for part in parts for x in values[part, hand]), _NOUGHT) / (p * times) for hand in hands]
    part_ss = h * times * _squares(part_means, grand)
    hand_ss = p * times * _squares(hand_means, grand)
    cell_ss = times * _squares([sum(v, _NOUGHT) / times for v in values.values()], grand)
    repeat_ss = sum((_squares(v, sum(v, _NOUGHT) / times) for v in values.values()), _NOUGHT)
    sums = {"part": part_ss, "hand": hand_ss, "interaction": cell_ss - part_ss - hand_ss, "repeat": repeat_ss}
    dofs = {"part": p - 1, "hand": h - 1, "interaction": (p - 1) * (h - 1), "repeat": p * h * (times - 1)}
    return _components(sums, dofs, p, h, times, level)


def _squares(values: Sequence[Fraction], about: Fraction) -> Fraction:
    return sum(((v - about) ** 2 for v in values), _NOUGHT)


def _components(
    sums: Mapping[str, Fraction], dofs: Mapping[str, int], p: int, h: int, times: int, level: float
) -> Crossed:
    squares = {name: sums[name] / dofs[name] for name in sums}
    repeat, both = squares["repeat"], squares["interaction"]
    f = float(both / repeat) if repeat else math.inf if both else 0.0
    chance = f_beyond(f, dofs["interaction"], dofs["repeat"])
    pooled = chance > level
    if pooled:
        repeat = (sums["interaction"] + sums["repeat"]) / (dofs["interaction"] + dofs["repeat"])
    against = repeat if pooled else both
    return Crossed(
        sums={name: float(value) for name, value in sums.items()},
        dofs=dict(dofs),
        interaction_f=f,
        interaction_chance=chance,
        pooled=pooled,
        part=max(0.0, float((squares["part"] - against) / (h * times))),
        hand=max(0.0, float((squares["hand"] - against) / (p * times))),
        interaction=0.0 if pooled else max(0.0, float((both - repeat) / times)),
        repeatability=float(repeat),
    )


def _design(cells: Mapping[tuple[str, str], Sequence[float]]) -> tuple[list[str], list[str], int]:
    parts = list(dict.fromkeys(part for part, _ in cells))
    hands = list(dict.fromkeys(hand for _, hand in cells))
    counts = {len(readings) for readings in cells.values()}
    whole = len(cells) == len(parts) * len(hands) and len(counts) == 1
    if len(parts) < 2 or len(hands) < 2 or not whole or min(counts) < 2:
        raise ValueError(
            "every hand reads every part, equally often and twice or more; two hands and two parts or more"
        )
    return parts, hands, counts.pop()


def f_beyond(f: float, dof: float, dof_below: float) -> float:
    """Chance that an F variable is larger than `f` (Abramowitz and Stegun 26.6.2)."""
    if f <= 0.0:
        return 1.0
    if math.isinf(f):
        return 0.0
    share = dof_below / (dof_below + dof * f)
    return beta_regularised(dof_below / 2.0, dof / 2.0, share, 1.0 - share)
