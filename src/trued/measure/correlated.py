"""Propagation where the inputs come with a correlation matrix instead of shared sources (GUM 5.2.2, eq. 16)."""

from __future__ import annotations

import math
from collections.abc import Sequence

from trued.measure.estimate import ErrorSource, UncertainValue


def correlated(
    key: str, values: Sequence[float], u: Sequence[float], correlation: Sequence[Sequence[float]]
) -> tuple[UncertainValue, ...]:
    """Uncertain values with the given standard uncertainties and correlation matrix (n x n, 1 on the diagonal).

    The matrix is split into independent sources (Cholesky). Their freedom is infinite: with few degrees of
    freedom and correlation the Welch-Satterthwaite formula does not hold (GUM G.4.1). ValueError when the
    matrix is not a correlation matrix.
    """
    lower = _cholesky(correlation)
    sources = [ErrorSource(f"{key}:{j}", f"{key}, part {j + 1}", 1.0) for j in range(len(values))]
    return tuple(
        UncertainValue(value, {sources[j]: u[i] * lower[i][j] for j in range(i + 1) if lower[i][j] != 0.0})
        for i, value in enumerate(values)
    )


def _cholesky(matrix: Sequence[Sequence[float]]) -> list[list[float]]:
    n = len(matrix)
    lower = [[0.0] * n for _ in range(n)]
    for i in range(n):
        for j in range(i + 1):
            rest = matrix[i][j] - math.fsum(lower[i][k] * lower[j][k] for k in range(j))
            if i == j:
                if rest < -1e-9 or abs(matrix[i][i] - 1.0) > 1e-12:
                    raise ValueError("not a correlation matrix: it needs 1 on the diagonal and no negative variance")
                lower[i][i] = math.sqrt(max(rest, 0.0))
            else:
                lower[i][j] = rest / lower[j][j] if lower[j][j] > 1e-9 else 0.0
    return lower
