"""What the sign of a feature means, in words: for whoever does not know which way is plus.

The words are those of the check that finds it; a sign without words would have to be learnt by heart.
"""

from __future__ import annotations

from trued.measure.decision import Side, ToleranceLimits
from trued.standing.feature import bare_name

_TIGHT = ("tight", "open")
_LONG = ("parts long", "parts short")
_LOW = ("low", "proud")
_BOWED = ("hollow", "crowned")
_OVER = ("reads over", "reads under")

_SIDES = {
    "fence-angle": _TIGHT,
    "detent-angle": _TIGHT,
    "stop-offset": _LONG,
    "stop-slope": ("long parts too long", "long parts too short"),
    "blade-parallel": ("back of the blade away from the slot", "back of the blade toward the slot"),
    "bevel@0": ("leans toward the keeper", "leans away from the keeper"),
    "bevel@45": ("past 45°", "short of 45°"),
    "insert-operator-keeper": _LOW,
    "insert-operator-offcut": _LOW,
    "insert-far-keeper": _LOW,
    "insert-far-offcut": _LOW,
    "knife": ("inside the kerf", "outside the kerf"),
    "knife-over-plate": ("thicker than the plate", "thinner than the plate"),
    "knife-under-kerf": ("thinner than the kerf", "thicker than the kerf"),
    "knife-height": ("below the top tooth", "above the top tooth"),
    "rip-toe": ("toed out: open at the back", "toed in: closed at the back"),
    "rip-fence-angle": ("opens to the back", "pinches at the back"),
    "rip-straight": _BOWED,
    "rip-offset": ("rips wide", "rips narrow"),
    "rip-slope": ("wide rips too wide", "wide rips too narrow"),
    "rip-taper": ("trailing end narrow", "trailing end wide"),
    "table-at-blade": _BOWED,
    "wing-step": _LOW,
    "wing-droop": ("outer edge low", "outer edge high"),
    "wing-twist": ("far end low", "near end low"),
    "fence-straight": _BOWED,
    "fence-upright": ("top leans away from the work", "top leans over the work"),
    "sight-line": _LONG,
    "caliper-zero": _OVER,
    "caliper-jaws": ("tips read more", "tips read less"),
    "tape-hook": ("pushed reads more", "pushed reads less"),
    "tape-start": _OVER,
    "stock-edge": _BOWED,
    "box-square": ("corner A under 90°", "corner A over 90°"),
    "dado-fit": ("loose", "tight"),
    "support-margin": ("inside the tip line", "past the tip line"),
}
"""By feature, above 0 and below it."""


def side_said(feature: str, value: float) -> str:
    """`tight`; "" at 0, and for a feature whose number has one way only."""
    sides = _SIDES.get(bare_name(feature))
    if sides is None or value == 0.0:
        return ""
    return sides[0] if value > 0.0 else sides[1]


def out_said(feature: str, side: Side, limits: ToleranceLimits | None) -> str:
    """On which side of its limits a feature is out: `tight`, else `more than is allowed`."""
    above = side is Side.ABOVE
    limit = None if limits is None else limits.high if above else limits.low
    beyond_zero = limit is not None and (limit >= 0.0 if above else limit <= 0.0)
    words = side_said(feature, 1.0 if above else -1.0) if beyond_zero else ""
    return words or f"{'more' if above else 'less'} than allowed"
