"""One number as every surface writes it: its side instead of a sign, its 95 % interval behind ±, and its limit."""

from __future__ import annotations

from trued.advice.side_words import side_said
from trued.measure.decision import ToleranceLimits
from trued.standing.feature import find_feature, named
from trued.units import Unit
from trued.units.number_format import degrees, quantity, unit_after
from trued.words.message import Figure

_EVEN = 0.1
"""Of half an interval: how far its middle may lie from the value and ± still tell the truth to the places shown."""


def short_name(full: str) -> str:
    """`fence angle`, `detent angle 45° closed`: without the thing, which the check's name tells."""
    known, parts = find_feature(full), named(full)
    text = known.text if known is not None else parts.feature.replace("-", " ")
    if parts.angle in ("", "0") or (known is not None and known.angles == "tilt" and parts.angle == "45"):
        return text
    return f"{text} {parts.turned.text}"


def first_up(text: str) -> str:
    """With a capital, as a line begins."""
    return f"{text[:1].upper()}{text[1:]}"


def limit_text(limits: ToleranceLimits | None, kind: str, unit: Unit) -> str:
    """`±0.0024`, `0.004 or less`, `0.003 or more`, `0.002 to 0.006`; the unit stands with the number beside it."""
    if limits is None:
        return ""
    low, high = (None if x is None else quantity(x, kind, unit, limits=_both(limits), bare=True) for x in _both(limits))
    if low is None:
        return f"{high} or less"
    if high is None:
        return f"{low} or more"
    return f"±{high}" if limits.low == -(limits.high or 0.0) else f"{low} to {high}"


def value_text(
    feature: str,
    value: float,
    interval95: tuple[float, float] | None,
    kind: str,
    unit: Unit,
    limits: ToleranceLimits | None,
) -> str:
    """`0.0060 in/ft tight, ±0.0016 (0.029°)`; where the interval is lopsided `0.003 to 0.013 in`.

    feature: its full or bare name, for its side. interval95: None where none is known of all runs together.
    """
    beside = _both(limits)
    size = quantity(abs(value), kind, unit, limits=(abs(x) for x in beside if x is not None))
    side = side_said(feature, value) if any(digit in size.partition(" ")[0] for digit in "123456789") else ""
    if not side and value < 0.0 and size[:1] != "0":
        size = quantity(value, kind, unit, limits=beside)
    text = f"{size} {side}".rstrip()
    if interval95 is not None:
        low, high = interval95
        half = 0.5 * (high - low)
        if abs(0.5 * (high + low) - value) <= _EVEN * half:
            text += f", ±{quantity(half, kind, unit, limits=beside, bare=True)}"
        else:
            ends = (quantity(x, kind, unit, limits=beside, bare=True) for x in (low, high))
            text += f", 95%: {' to '.join(ends)}{unit_after(kind, unit)}"
    return f"{text} ({degrees(abs(value))})" if kind == "rad" else text


def figure(
    feature: str,
    value: float,
    interval95: tuple[float, float] | None,
    kind: str,
    unit: Unit,
    limits: ToleranceLimits | None,
    sure: str = "",
) -> Figure:
    """One number with its name, limit and chance."""
    limit = limit_text(limits, kind, unit)
    text = value_text(feature, value, interval95, kind, unit, limits)
    return Figure(first_up(short_name(feature)), text, f"limit {limit}" if limit else "", sure)


def _both(limits: ToleranceLimits | None) -> tuple[float | None, float | None]:
    return (None, None) if limits is None else (limits.low, limits.high)
