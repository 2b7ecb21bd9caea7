"""One position of a stop or fence: what to set, and what the rounding to its scale leaves over."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

SettingRounding = Literal["nearest", "down", "up"]


@dataclass(frozen=True, slots=True)
class Setting:
    """`reading_mm` is what to set the scale to; parts come out at the wanted size + `remainder_mm` on the mean."""

    reading_mm: float
    remainder_mm: float


def on_the_scale(reading_mm: float, step_mm: float, rounding: SettingRounding) -> float:
    """The nearest division of a scale, or the next one down (never larger) or up (never smaller).

    A reading that is a division but for the last bits of a float stays that division.
    """
    steps = reading_mm / step_mm
    if rounding == "down":
        whole = math.floor(steps + 1e-9)
    elif rounding == "up":
        whole = math.ceil(steps - 1e-9)
    else:
        whole = round(steps)
    return whole * step_mm
