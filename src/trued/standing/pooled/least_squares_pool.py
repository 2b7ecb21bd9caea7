"""Findings of one feature pooled by their weight, and of two features that one run finds together (a line's).

Weights are 1 / variance, or the inverse of the 2 x 2 covariance for a pair: generalised least squares. What runs
share (one instrument's limit of error) is left out of the weights, but not of the result: that is a sum of the
findings with their sources, so its uncertainty and the covariance of the pair are what these sources make of it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from trued.measure.distribution.chi_square import chi_square_quantile
from trued.measure.distribution.student import root
from trued.measure.estimate import ErrorSource, UncertainValue, covariance, linear

_CONTRADICT = 1e-4  # so rare that it is no chance, as for one run against another
_LEAST = 1e-12  # mm or rad; a finding of no uncertainty at all still gets a finite weight
_Matrix = tuple[float, float, float]  # a symmetric 2 x 2: (11, 12, 22)


def pooled(findings: Sequence[UncertainValue]) -> UncertainValue:
    """Weighted mean; one finding is itself. Findings that contradict each other make no sharp one."""
    if len(findings) == 1:
        return findings[0]
    weights = [1.0 / max(x.u, _LEAST) ** 2 for x in findings]
    total = math.fsum(weights)
    value = math.fsum(w * x.value for w, x in zip(weights, findings, strict=True)) / total
    square = math.fsum(w * (x.value - value) ** 2 for w, x in zip(weights, findings, strict=True))
    if min(x.u for x in findings) > 0.0 and square > chi_square_quantile(1.0 - _CONTRADICT, len(findings) - 1):
        return _apart(findings)
    return linear(value, *((w / total, x) for w, x in zip(weights, findings, strict=True)))


def _apart(findings: Sequence[UncertainValue]) -> UncertainValue:
    """Their mean with what they scatter beyond their own uncertainty, known like from so few.

    The between-run variance is that of Paule and Mandel: with it chi-square is its own degrees of freedom.
    """
    values, squares, dof = [x.value for x in findings], [x.u**2 for x in findings], len(findings) - 1

    def beyond(between: float) -> float:
        weights = [1.0 / (square + between) for square in squares]
        mean = math.fsum(w * x for w, x in zip(weights, values, strict=True)) / math.fsum(weights)
        return dof - math.fsum(w * (x - mean) ** 2 for w, x in zip(weights, values, strict=True))

    between = root(beyond, 0.0, (max(values) - min(values)) ** 2)
    weights = [1.0 / (square + between) for square in squares]
    total = math.fsum(weights)
    value = math.fsum(w * x for w, x in zip(weights, values, strict=True)) / total
    return UncertainValue.of(value, ErrorSource("pool:apart", "findings that contradict each other", total**-0.5, dof))


def pooled_spread(findings: Sequence[UncertainValue]) -> UncertainValue:
    """Scatters pooled: their squares by the readings behind each. By their own weights the small ones would win."""
    if len(findings) == 1 or not all(math.isfinite(x.dof) for x in findings):
        return pooled(findings)
    dof = math.fsum(x.dof for x in findings)
    s = math.sqrt(math.fsum(x.dof * x.value**2 for x in findings) / dof)
    labels = dict.fromkeys(source.label for x in findings for source in x.parts)
    return UncertainValue.of(s, ErrorSource("spread:pooled", ", ".join(labels), s / math.sqrt(2.0 * dof), dof))


def pooled_pair(
    firsts: Mapping[str, UncertainValue], seconds: Mapping[str, UncertainValue]
) -> tuple[UncertainValue, UncertainValue]:
    """Two features by run; a run may have found one of them alone. Each has at least one finding."""
    runs = [(firsts.get(run), seconds.get(run)) for run in dict.fromkeys([*firsts, *seconds])]
    if len(runs) == 1 and runs[0][0] is not None and runs[0][1] is not None:
        return runs[0][0], runs[0][1]
    weights = [_weight(first, second) for first, second in runs]
    spread = _inverse((sum(w[0] for w in weights), sum(w[1] for w in weights), sum(w[2] for w in weights)))
    one: list[tuple[float, UncertainValue]] = []
    two: list[tuple[float, UncertainValue]] = []
    for (first, second), w in zip(runs, weights, strict=True):
        if first is not None:
            one.append((spread[0] * w[0] + spread[1] * w[1], first))
            two.append((spread[1] * w[0] + spread[2] * w[1], first))
        if second is not None:
            one.append((spread[0] * w[1] + spread[1] * w[2], second))
            two.append((spread[1] * w[1] + spread[2] * w[2], second))
    return _summed(one), _summed(two)


def _summed(terms: Sequence[tuple[float, UncertainValue]]) -> UncertainValue:
    return linear(math.fsum(c * x.value for c, x in terms), *terms)


def _weight(first: UncertainValue | None, second: UncertainValue | None) -> _Matrix:
    a = max(first.u, _LEAST) ** 2 if first is not None else math.inf
    c = max(second.u, _LEAST) ** 2 if second is not None else math.inf
    if first is None or second is None:
        return 1.0 / a, 0.0, 1.0 / c
    b = covariance(first, second)
    if abs(b) > (1.0 - 1e-9) * math.sqrt(a * c):  # one and the same error: no inverse
        b = math.copysign((1.0 - 1e-9) * math.sqrt(a * c), b)
    return _inverse((a, b, c))


def _inverse(m: _Matrix) -> _Matrix:
    a, b, c = m
    det = a * c - b * b
    return c / det, -b / det, a / det
