"""What can be turned in this shop, and an amount as a person would type it."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from trued.shop.amount import radius_mm
from trued.shop.feature import FEATURES, full_name, said
from trued.shop.shop import Shop
from trued.shop.standing import Standing
from trued.shop.thing import thing_of
from trued.units import Unit, as_decimal, as_mm
from trued.usecases.shop_now import shop_now


@dataclass(frozen=True, slots=True)
class Adjustment:
    """One thing that is turned: its full name, its name in words, its two ways."""

    feature: str
    name: str
    directions: tuple[str, str]


def list_adjustments(book: Path) -> tuple[Adjustment, ...]:
    """Everything that can be turned: what was found here first, as it is at the angles found, then all else."""
    now = shop_now(book)
    found = [standing.feature for standing in now.standings()]
    usual = [full_name(thing_of(name, now.shop), name) for name in FEATURES]
    adjustments = (_adjustment(full) for full in dict.fromkeys((*found, *usual)))
    return tuple(one for one in adjustments if one is not None)


def _adjustment(full: str) -> Adjustment | None:
    known = FEATURES.get(full.partition("@")[0].rpartition(".")[2])
    if known is None or known.directions is None:
        return None
    return Adjustment(full, said(full), known.directions)


def amount_to_type(standing: Standing, shop: Shop) -> str:
    """The amount of a standing's next move at the adjusting point; as an angle where no radius is known; "" if none."""
    step = standing.next
    if step is None or step.amount is None:
        return ""
    if standing.unit == "mm":
        return length_to_type(step.amount, shop.unit)
    radius = radius_mm(standing.feature, shop)
    if radius is None:
        return f"{1000.0 * step.amount:.3f}mrad"
    return length_to_type(step.amount * radius, shop.unit)


def length_to_type(mm: float, unit: Unit) -> str:
    """`0.0054` or `0.14`: a small length with the unit left out, as it is read back in that unit."""
    return as_decimal(abs(mm), 4).text if unit == "in" else as_mm(abs(mm), 3).text.removesuffix(" mm")
