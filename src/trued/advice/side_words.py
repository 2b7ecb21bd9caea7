"""What the sign of a feature means, in words: for whoever does not know which way is plus.

The words are those of the check that finds it; a sign without words would have to be learnt by heart.
"""

from __future__ import annotations

from trued.measure.decision import Side, ToleranceLimits
from trued.standing.feature import bare_name

_TIGHT = ("the corner is tight", "the corner is open")
_LONG = ("parts come out long", "parts come out short")
_LOW = ("it lies below the table", "it stands above the table")
_BOWED = ("hollow", "crowned")

_SIDES = {
    "fence-angle": _TIGHT,
    "detent-angle": _TIGHT,
    "stop-offset": _LONG,
    "stop-slope": ("long parts come out too long", "long parts come out too short"),
    "blade-parallel": ("its far end leans away from the slot", "its far end leans toward the slot"),
    "bevel@0": ("its top leans toward the keeper", "its top leans away from the keeper"),
    "bevel@45": ("tilted too far over", "too upright"),
    "insert-operator-keeper": _LOW,
    "insert-operator-offcut": _LOW,
    "insert-far-keeper": _LOW,
    "insert-far-offcut": _LOW,
    "knife": ("inside the kerf by so much", "outside the kerf by so much"),
    "rip-toe": ("open at the far end", "closed at the far end"),
    "rip-fence-angle": ("they open toward the far end", "they close toward the far end"),
    "rip-straight": _BOWED,
    "rip-offset": ("rips come out wide", "rips come out narrow"),
    "rip-slope": ("wide rips come out too wide", "wide rips come out too narrow"),
    "rip-taper": ("narrower toward its trailing end", "wider toward its trailing end"),
    "table-at-blade": _BOWED,
    "wing-step": _LOW,
    "wing-droop": ("it lies below the joint", "it stands above the joint"),
    "wing-twist": ("lower at the far end", "lower at the operator's end"),
    "fence-straight": _BOWED,
    "fence-upright": ("its top leans away from the work", "its top leans over the work"),
    "sight-line": _LONG,
    "caliper-zero": ("it reads too much", "it reads too little"),
    "caliper-jaws": ("the tips read more", "the tips read less"),
    "tape-hook": ("pushed it reads more", "pushed it reads less"),
    "tape-start": ("it reads too much", "it reads too little"),
    "stock-edge": _BOWED,
    "box-square": ("corner A is tight", "corner A is open"),
    "dado-fit": ("the shelf has room", "the shelf is too thick"),
    "support-margin": ("inside the line about which it tips", "beyond the line about which it tips"),
}
"""By feature, above nought and below it."""


def side_said(feature: str, value: float) -> str:
    """`the corner is tight`; "" at nought, and for a feature whose number has one way only."""
    sides = _SIDES.get(bare_name(feature))
    if sides is None or value == 0.0:
        return ""
    return sides[0] if value > 0.0 else sides[1]


def out_said(feature: str, side: Side, limits: ToleranceLimits | None) -> str:
    """On which side of its limits a feature is out: `the corner is tight`, else `more than is allowed`."""
    above = side is Side.ABOVE
    limit = None if limits is None else limits.high if above else limits.low
    beyond_zero = limit is not None and (limit >= 0.0 if above else limit <= 0.0)
    words = side_said(feature, 1.0 if above else -1.0) if beyond_zero else ""
    return words or f"{'more' if above else 'less'} than is allowed"
