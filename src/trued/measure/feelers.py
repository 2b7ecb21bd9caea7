"""Feelers that make up a thickness: the fewest leaves of a set, or two of them that differ by it.

A set is a tuple of thicknesses in mm, each there once. The search is exhaustive over the number of leaves allowed, in
whole tenths of a nanometre, so that the fewest and among those the nearest is found for certain.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

INCH_MM = 25.4
MOST_TOGETHER = 4  # leaves; more of them spring apart, common practice

COMMON_INCH = tuple(
    INCH_MM * thousandths / 1000.0 for thousandths in (1.5, 2, 2.5, *range(3, 26))
)  # 26 leaves, 0.0015 to 0.025 in: common practice
COMMON_METRIC = (*(0.01 * n for n in range(2, 11)), *(0.05 * n for n in range(3, 21)))
# 0.02 to 0.10 mm by 0.01, then to 1.00 by 0.05: common practice
HALF_STEP_MM = 0.00025 * INCH_MM  # half of the step between the thin leaves of the common inch set


@dataclass(frozen=True, slots=True)
class Stack:
    """Leaves laid together, thickest first, mm; `off_mm` is how much thicker they are than was wanted."""

    leaves_mm: tuple[float, ...]
    off_mm: float

    @property
    def thickness_mm(self) -> float:
        """All leaves together."""
        return sum(self.leaves_mm)


@dataclass(frozen=True, slots=True)
class Pair:
    """One leaf in place of another: the step between them is the move; `off_mm` as in a stack."""

    thinner_mm: float
    thicker_mm: float
    off_mm: float


def least_stack(
    thickness_mm: float, tolerance_mm: float, leaves_mm: Sequence[float] = COMMON_INCH, *, most: int = MOST_TOGETHER
) -> Stack | None:
    """The fewest leaves, at most `most`, whose sum is within `tolerance_mm` of the thickness; None when there are none.

    Of several stacks with as few leaves the nearest is taken, and of those alike the one with the thickest leaf.
    """
    wanted, room = _tenths(thickness_mm), _tenths(tolerance_mm)
    leaves = sorted((_tenths(leaf) for leaf in leaves_mm), reverse=True)
    for count in range(1, most + 1):
        near = [(abs(sum(c) - wanted), n, c) for n, c in enumerate(combinations(leaves, count))]
        fit = [item for item in near if item[0] <= room]
        if fit:
            chosen = min(fit)[2]
            return Stack(tuple(_mm(leaf) for leaf in chosen), _mm(sum(chosen) - wanted))
    return None


def least_pair(step_mm: float, tolerance_mm: float, leaves_mm: Sequence[float] = COMMON_INCH) -> Pair | None:
    """Two leaves that differ by a step, within `tolerance_mm`: the nearest, of those alike the thinnest; or None."""
    wanted, room = _tenths(step_mm), _tenths(tolerance_mm)
    leaves = sorted({_tenths(leaf) for leaf in leaves_mm})
    pairs = [(abs(b - a - wanted), a, b) for a, b in combinations(leaves, 2)]
    fit = [pair for pair in pairs if pair[0] <= room]
    if not fit:
        return None
    _, thin, thick = min(fit)
    return Pair(_mm(thin), _mm(thick), _mm(thick - thin - wanted))


def smallest_step_mm(leaves_mm: Sequence[float] = COMMON_INCH) -> float:
    """The smallest move that a set can make: its thinnest leaf, or the least difference of two."""
    leaves = sorted({_tenths(leaf) for leaf in leaves_mm})
    return _mm(min([leaves[0], *(b - a for a, b in combinations(leaves, 2))]))


def _tenths(mm: float) -> int:
    return round(mm * 1e7)


def _mm(tenths: int) -> float:
    return tenths / 1e7
