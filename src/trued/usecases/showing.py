"""How every surface writes a found number, its tolerance and a chance."""

from __future__ import annotations

from trued.advice.side_words import side_said
from trued.measure.decision import ToleranceLimits
from trued.standing.pooled.checked_before import ASSUMED
from trued.units import Unit, as_decimal, as_mm, show_angle
from trued.units.number_format import percent


def shown(value: float, kind: str, unit: Unit, *, sign: bool = False) -> str:
    """A number of a feature in the person's unit: angles as a slope, lengths in inches or mm."""
    plus = "+" if sign and value >= 0 else ""
    if kind == "rad":
        return plus + show_angle(value, unit)
    if kind == "mm/mm":
        per = value * 12 if unit == "in" else value * 300
        return f"{plus}{per:.4f} in/ft" if unit == "in" else f"{plus}{per:.3f} mm per 300 mm"
    if kind != "mm":
        return f"{plus}{value:.4g} {kind}"
    return plus + (as_mm(value, 3).text if unit == "mm" else f"{as_decimal(value, 4).text} in")


def brief(value: float, kind: str, unit: Unit, *, sign: bool = False) -> str:
    """The same without what stands in brackets beside it: for the second number of a line."""
    return shown(value, kind, unit, sign=sign).partition(" (")[0]


def found_said(value: float, kind: str, unit: Unit, limits: ToleranceLimits | None, feature: str) -> str:
    """`+0.0009 in/ft (0.0045°), the corner is tight`: with a sign only where there are two ways to be out, and with
    what it means, unless all that is shown is nought."""
    number = shown(value, kind, unit, sign=two_sided(limits))
    side = side_said(feature, value) if any(digit in number.partition(" ")[0] for digit in "123456789") else ""
    return f"{number}, {side}" if side else number


def believed_said(
    value: float, u: float, kind: str, unit: Unit, limits: ToleranceLimits | None, feature: str = ""
) -> str:
    """`+0.0009 in/ft (0.0045°), the corner is tight; give or take 0.0013 in/ft`."""
    found = found_said(value, kind, unit, limits, feature)
    return f"{found}{';' if ', ' in found else ','} give or take {brief(u, kind, unit)}"


def reading_said(typed: str) -> str:
    """`free end at 12: 1.0500` for a reading that was typed as `free_end@12:caliper-1=1.0500`."""
    left, _, value = typed.partition("=")
    name, _, place = left.partition(":")[0].partition("@")
    at = f" at {place.replace('-', ' ')}" if place else ""
    return f"{name.replace('_', ' ')}{at}: {value}"


def two_sided(limits: ToleranceLimits | None) -> bool:
    """Whether a number has two ways to be out, so that its sign says something."""
    return limits is not None and limits.low is not None and limits.low < 0.0


def limits_shown(limits: ToleranceLimits | None, kind: str, unit: Unit) -> str:
    """A tolerance in words; "" where there is none."""
    if limits is None:
        return ""
    low, high = limits.low, limits.high
    if low is None and high is not None:
        return f"at most {brief(high, kind, unit)}"
    if high is None and low is not None:
        return f"at least {brief(low, kind, unit)}"
    if low is not None and high is not None and low == -high:
        return f"±{brief(high, kind, unit)}"
    return f"{brief(low or 0.0, kind, unit)} to {brief(high or 0.0, kind, unit)}"


def within_said(limits: ToleranceLimits | None, kind: str, unit: Unit) -> str:
    """The tolerance as the end of a sentence: `within ±0.0024 in/ft`, `at most 0.0040 in`."""
    words = limits_shown(limits, kind, unit)
    low, to, high = words.partition(" to ")
    if to:
        return f"between {low} and {high}"
    return words if words.startswith("at ") else f"within {words}"


def chance_said(p: float, scatter_source: str = "") -> str:
    """A chance as a person says it, never 0 or 100%; and that it rests on a repeat which this shop has not shown."""
    return percent(p) + (", repeatability assumed" if scatter_source == ASSUMED else "")
