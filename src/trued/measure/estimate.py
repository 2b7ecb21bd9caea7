"""Uncertain values: an estimate and how far each named error source moves it.

Two values are correlated exactly when they share a source; what cancels in a difference cancels here by itself.
First-order propagation and the Welch-Satterthwaite formula: GUM (JCGM 100:2008) 5.1.2, 5.2.2 and G.4.1. The
formula needs independent inputs; sources are independent by construction, and those judged from one and the
same scatter (the two numbers of a fitted line, say) name it as their `pool` and count once.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from trued.measure.distribution.student import root, t_cdf, t_quantile

# Gauss-Legendre nodes and weights on [-1, 1], 12 points (Abramowitz and Stegun, table 25.4).
_NODES = (
    *(0.1252334085114689, 0.3678314989981802, 0.5873179542866175),
    *(0.7699026741943047, 0.9041172563704749, 0.9815606342467193),
)
_WEIGHTS = (
    *(0.2491470458134028, 0.2334925365383548, 0.2031674267230659),
    *(0.1600783285433462, 0.1069393259953184, 0.0471753363865118),
)


class Shape(StrEnum):
    """How an error is spread: about normal (Student t when its freedom is small) or evenly within limits."""

    NORMAL = "normal"
    RECTANGULAR = "rectangular"


@dataclass(frozen=True, slots=True)
class ErrorSource:
    """One error source: `u` is its standard uncertainty in the source's own unit, `dof` how well u is known.

    Values that share the `key` share the error itself. `label` is what a person reads in the budget; `pool`
    names the scatter that several sources were judged from together.
    """

    key: str
    label: str
    u: float
    dof: float = math.inf
    shape: Shape = Shape.NORMAL
    pool: str = ""

    def __post_init__(self) -> None:
        if not (self.u >= 0.0 and math.isfinite(self.u)):
            raise ValueError(f"{self.key}: a standard uncertainty is a finite number of 0 or more, got {self.u}")
        if not self.dof > 0.0:
            raise ValueError(f"{self.key}: degrees of freedom must be above 0, got {self.dof}")


@dataclass(frozen=True, slots=True)
class BudgetLine:
    """One line of an error budget: the standard uncertainty that a source gives to the result."""

    label: str
    u: float


@dataclass(frozen=True, slots=True)
class UncertainValue:
    """A value with the sensitivity to each of its error sources; add, subtract, multiply and divide keep both."""

    value: float
    parts: Mapping[ErrorSource, float] = field(default_factory=dict)

    @classmethod
    def of(cls, value: float, *sources: ErrorSource) -> UncertainValue:
        """`value` moved one for one by each of `sources`."""
        return cls(value, dict.fromkeys(sources, 1.0))

    def __hash__(self) -> int:
        return hash((self.value, frozenset(self.parts.items())))

    @property
    def u(self) -> float:
        """Combined standard uncertainty (GUM 5.1.2)."""
        return math.sqrt(sum((c * source.u) ** 2 for source, c in self.parts.items()))

    @property
    def dof(self) -> float:
        """Effective degrees of freedom (GUM G.2b); infinite when every source is fully known."""
        return _welch_satterthwaite(self.parts.items())

    @property
    def components(self) -> tuple[BudgetLine, ...]:
        """The error budget by label, largest first; lines that give nothing are left out."""
        squares: defaultdict[str, float] = defaultdict(float)
        for source, c in self.parts.items():
            squares[source.label] += (c * source.u) ** 2
        lines = [BudgetLine(label, math.sqrt(square)) for label, square in squares.items() if square > 0.0]
        return tuple(sorted(lines, key=lambda line: (-line.u, line.label)))

    def shares(self) -> dict[str, float]:
        """Part of the variance that each label gives; the parts add up to 1 (empty when there is no error)."""
        total = self.u**2
        return {line.label: line.u**2 / total for line in self.components} if total > 0.0 else {}

    def __add__(self, other: UncertainValue | float) -> UncertainValue:
        right = lift(other)
        return linear(self.value + right.value, (1.0, self), (1.0, right))

    __radd__ = __add__

    def __neg__(self) -> UncertainValue:
        return linear(-self.value, (-1.0, self))

    def __sub__(self, other: UncertainValue | float) -> UncertainValue:
        right = lift(other)
        return linear(self.value - right.value, (1.0, self), (-1.0, right))

    def __rsub__(self, other: float) -> UncertainValue:
        return lift(other) - self

    def __mul__(self, other: UncertainValue | float) -> UncertainValue:
        right = lift(other)
        return linear(self.value * right.value, (right.value, self), (self.value, right))

    __rmul__ = __mul__

    def __truediv__(self, other: UncertainValue | float) -> UncertainValue:
        right = lift(other)
        quotient = self.value / right.value
        return linear(quotient, (1.0 / right.value, self), (-quotient / right.value, right))

    def __rtruediv__(self, other: float) -> UncertainValue:
        return lift(other) / self


def lift(x: UncertainValue | float) -> UncertainValue:
    """A plain number as a value without error."""
    return x if isinstance(x, UncertainValue) else UncertainValue(float(x))


def linear(value: float, *terms: tuple[float, UncertainValue]) -> UncertainValue:
    """`value` with the sensitivities of its `terms`: (derivative of value by the term, the term)."""
    parts: defaultdict[ErrorSource, float] = defaultdict(float)
    for derivative, term in terms:
        for source, c in term.parts.items():
            parts[source] += derivative * c
    return UncertainValue(value, {source: c for source, c in parts.items() if c != 0.0})


def covariance(x: UncertainValue, y: UncertainValue) -> float:
    """Covariance of two values through the sources that they share (GUM F.1.2.3)."""
    return sum(c * y.parts[source] * source.u**2 for source, c in x.parts.items() if source in y.parts)


def chance_between(x: UncertainValue, low: float | None, high: float | None) -> float:
    """Chance that the true value lies between `low` and `high`; None leaves that side open."""
    below_high = 1.0 if high is None else chance_under(x, high)
    below_low = 0.0 if low is None else chance_under(x, low)
    return max(0.0, min(1.0, below_high - below_low))


def interval(x: UncertainValue, level: float = 0.95) -> tuple[float, float]:
    """Symmetric interval that holds the true value with `level` chance.

    The largest evenly spread source is convolved exactly with a Student t for all the others, so that an
    interval ruled by one instrument's limit is not too wide, as value +- t u would be.
    """
    half = _half_width(x, level)
    return x.value - half, x.value + half


def _half_width(x: UncertainValue, level: float) -> float:
    edge, rest, dof = _split(x)
    upper = 0.5 * (1.0 + level)
    if edge == 0.0:
        return t_quantile(upper, dof) * rest
    if rest == 0.0:
        return edge * level
    widest = edge + t_quantile(upper, dof) * rest
    return root(lambda half: _mixed_cdf(half, edge, rest, dof) - upper, 0.0, widest)


def chance_under(x: UncertainValue, limit: float) -> float:
    """Chance that the true value lies below `limit`."""
    edge, rest, dof = _split(x)
    away = limit - x.value
    if rest == 0.0:
        if edge == 0.0:
            return 1.0 if away >= 0.0 else 0.0
        return max(0.0, min(1.0, 0.5 * (1.0 + away / edge)))
    return t_cdf(away / rest, dof) if edge == 0.0 else _mixed_cdf(away, edge, rest, dof)


def _split(x: UncertainValue) -> tuple[float, float, float]:
    """(half width of the largest rectangular source, u of all the others, their degrees of freedom)."""
    even = [(abs(c) * s.u, s) for s, c in x.parts.items() if s.shape is Shape.RECTANGULAR and c * s.u != 0.0]
    if not even:
        return 0.0, x.u, x.dof
    largest_u, largest = max(even, key=lambda pair: pair[0])
    others = [(s, c) for s, c in x.parts.items() if s is not largest]
    rest = math.sqrt(sum((c * s.u) ** 2 for s, c in others))
    if largest_u <= 1e-6 * rest:  # its shape no longer shows
        return 0.0, x.u, x.dof
    return largest_u * math.sqrt(3.0), rest, _welch_satterthwaite(others)


def _mixed_cdf(away: float, edge: float, rest: float, dof: float) -> float:
    """Chance that (evenly spread within +-edge) + rest * t is below `away`."""
    total = 0.0
    panels = max(1, min(32, math.ceil(2.0 * edge / rest)))
    width = 2.0 * edge / panels
    for panel in range(panels):
        centre = (panel + 0.5) * width - edge
        for node, weight in zip(_NODES, _WEIGHTS, strict=True):
            for side in (-node, node):
                total += weight * t_cdf((away - centre - side * width / 2.0) / rest, dof)
    return total * width / (4.0 * edge)


def _welch_satterthwaite(parts: Iterable[tuple[ErrorSource, float]]) -> float:
    variances: defaultdict[tuple[str, float], float] = defaultdict(float)
    total = 0.0
    for source, c in parts:
        square = (c * source.u) ** 2
        total += square
        if math.isfinite(source.dof):
            variances[source.pool or source.key, source.dof] += square
    lost = sum(square**2 / dof for (_, dof), square in variances.items())
    return total**2 / lost if lost > 0.0 else math.inf
