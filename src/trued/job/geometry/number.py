"""What the geometry of a fit is reckoned with: values with derivatives, or values drawn many times.

One formula serves both, so that what is propagated to first order and what is drawn is the same geometry.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from typing import Protocol, Self, TypeVar, cast

from trued.job.geometry.samples import Samples
from trued.measure.estimate import UncertainValue, linear


class Number(Protocol):
    """What a geometry needs of a quantity."""

    def __add__(self, other: Self | float, /) -> Self: ...
    def __radd__(self, other: float, /) -> Self: ...
    def __sub__(self, other: Self | float, /) -> Self: ...
    def __rsub__(self, other: float, /) -> Self: ...
    def __mul__(self, other: Self | float, /) -> Self: ...
    def __rmul__(self, other: float, /) -> Self: ...
    def __truediv__(self, other: Self | float, /) -> Self: ...
    def __neg__(self) -> Self: ...


Q = TypeVar("Q", bound=Number)


def sine(x: Q) -> Q:
    """Sine of an angle in rad."""
    return _applied(x, "sin", math.sin, math.cos)


def cosine(x: Q) -> Q:
    """Cosine of an angle in rad."""
    return _applied(x, "cos", math.cos, lambda v: -math.sin(v))


def tangent(x: Q) -> Q:
    """Tangent of an angle in rad."""
    return _applied(x, "tan", math.tan, lambda v: 1.0 / math.cos(v) ** 2)


def root(x: Q) -> Q:
    """Square root; above 0."""
    return _applied(x, "sqrt", math.sqrt, lambda v: 0.5 / math.sqrt(v))


def far(x: Q, y: Q) -> Q:
    """How far a point lies from the origin."""
    return root(x * x + y * y)


def total(among: Iterable[Q]) -> Q:
    """The sum of one or more."""
    first, *others = among
    for one in others:
        first = first + one
    return first


def chosen(word: str, among: Iterable[Q]) -> Q:
    """The smallest (`min`) or largest (`max`): draw by draw, or the one that is so on the mean."""
    several = list(among)
    if isinstance(several[0], Samples):
        import numpy as np

        pick = np.minimum if word == "min" else np.maximum
        return cast("Q", Samples(pick.reduce([cast("Samples", one).values for one in several])))

    def mean(one: Q) -> float:
        return cast("UncertainValue", one).value

    return min(several, key=mean) if word == "min" else max(several, key=mean)


def _applied(x: Q, name: str, of: Callable[[float], float], slope: Callable[[float], float]) -> Q:
    if isinstance(x, UncertainValue):
        return cast("Q", linear(of(x.value), (slope(x.value), x)))
    import numpy as np

    return cast("Q", Samples(getattr(np, name)(cast("Samples", x).values)))
