"""Inputs that come with a correlation matrix: GUM H.2."""

import math
import statistics

import pytest

from trued.measure.correlated import correlated
from trued.measure.estimate import UncertainValue, covariance, linear

# GUM H.2, table H.2: five simultaneous observations of voltage (V), current (A) and phase (rad) (from memory; the
# means, uncertainties and correlations that they give are those that H.2 prints)
V = [5.007, 4.994, 5.005, 4.990, 4.999]
CURRENT = [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3]
PHASE = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]


def inputs() -> tuple[UncertainValue, ...]:
    series = (V, CURRENT, PHASE)
    u = [statistics.stdev(s) / math.sqrt(5) for s in series]
    r = [[statistics.correlation(a, b) if a is not b else 1.0 for b in series] for a in series]
    return correlated("h2", [statistics.fmean(s) for s in series], u, r)


def test_the_observations_give_the_printed_inputs() -> None:
    v, i, phase = inputs()
    assert (v.value, i.value, phase.value) == pytest.approx((4.9990, 19.6610e-3, 1.04446), rel=1e-6)
    assert (v.u, i.u, phase.u) == pytest.approx((0.0032, 0.0095e-3, 0.00075), rel=0.01)
    for a, b, printed in ((v, i, -0.36), (v, phase, 0.86), (i, phase, -0.65)):
        assert covariance(a, b) / (a.u * b.u) == pytest.approx(printed, abs=0.0051)


def test_gum_h2_resistance_and_reactance() -> None:
    """Table H.3: R 127.732 (0.071), X 219.847 (0.295), Z 254.260 (0.236) ohm; r -0.588, -0.485, 0.993."""
    v, i, phase = inputs()
    cos = linear(math.cos(phase.value), (-math.sin(phase.value), phase))
    sin = linear(math.sin(phase.value), (math.cos(phase.value), phase))
    z = v / i
    r, x = z * cos, z * sin
    assert (r.value, x.value, z.value) == pytest.approx((127.732, 219.847, 254.260), abs=5e-4)
    assert (r.u, x.u, z.u) == pytest.approx((0.071, 0.295, 0.236), abs=1e-3)
    for a, b, printed in ((r, x, -0.588), (r, z, -0.485), (x, z, 0.993)):
        assert covariance(a, b) / (a.u * b.u) == pytest.approx(printed, abs=1e-3)


def test_fully_correlated_inputs_cancel() -> None:
    a, b = correlated("k", [1.0, 1.0], [0.2, 0.2], [[1.0, 1.0], [1.0, 1.0]])
    assert (a - b).u == pytest.approx(0.0, abs=1e-12) and (a + b).u == pytest.approx(0.4)


def test_the_parts_are_counted_from_one() -> None:
    _, b = correlated("k", [1.0, 1.0], [0.2, 0.2], [[1.0, 0.6], [0.6, 1.0]])
    assert {c.label: c.u for c in b.components} == pytest.approx({"k, part 1": 0.12, "k, part 2": 0.16})


@pytest.mark.parametrize("matrix", [[[1.0, 2.0], [2.0, 1.0]], [[0.5, 0.0], [0.0, 1.0]]])
def test_what_is_no_correlation_matrix(matrix: list[list[float]]) -> None:
    with pytest.raises(ValueError, match="not a correlation matrix"):
        correlated("k", [0.0, 0.0], [1.0, 1.0], matrix)
