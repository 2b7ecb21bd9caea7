"""What can be turned in this shop, and an amount as a person would type it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from trued.shop.amount import by_degrees, degrees_said, is_tilt, ordered_mm, radius_mm
from trued.shop.feature import FEATURES, find_feature, full_name, said
from trued.shop.order_words import order_said
from trued.shop.shop import Shop
from trued.shop.standing import Standing
from trued.shop.thing import thing_of
from trued.shop.turned import SWINGS, Detents, Turned
from trued.units import Unit, as_decimal, as_mm
from trued.usecases.shop_now import shop_now
from trued.usecases.showing import brief


@dataclass(frozen=True, slots=True)
class Adjustment:
    """One thing that is turned: its full name, its name in words, its two ways, each as it is ordered.

    unit: what a bare number of it means; `°` where it has no adjusting point that is known.
    """

    feature: str
    name: str
    directions: tuple[str, str]
    orders: tuple[str, str]
    unit: str

    def typed(self, text: str) -> str:
        """An amount with its unit where a bare number was typed of what is turned by degrees."""
        bare = bool(text) and all(sign.isdigit() or sign in ".,/ " for sign in text)
        return f"{text}deg" if bare and self.unit == "°" else text


def list_adjustments(book: Path) -> tuple[Adjustment, ...]:
    """Everything that can be turned: what was found here first, as it is at the angles found, then all else."""
    now = shop_now(book)
    found = [standing.feature for standing in now.standings()]
    usual = [full for name in FEATURES for full in _usual(name, now.shop)]
    adjustments = (_adjustment(full, now.shop) for full in dict.fromkeys((*found, *usual)))
    return tuple(one for one in adjustments if one is not None)


def _usual(name: str, shop: Shop) -> Iterator[str]:
    """A feature of the table as this shop has it: of a detent's angle one for each detent that is named."""
    thing = thing_of(name, shop)
    if name != "detent-angle":
        yield full_name(thing, name)
        return
    detents = next((fixture.detents for fixture in shop.fixtures if fixture.id == thing), Detents())
    for swing in SWINGS:
        yield from (full_name(thing, name, Turned(degrees, swing).suffix) for degrees in detents.of(swing))


def _adjustment(full: str, shop: Shop) -> Adjustment | None:
    known = find_feature(full)
    if known is None or known.directions is None:
        return None
    one, two = known.directions
    orders = order_said(full, one, known.directions), order_said(full, two, known.directions)
    unit = "°" if by_degrees(full, known.unit, shop) else shop.unit
    return Adjustment(full, said(full), known.directions, orders, unit)


def amount_to_type(standing: Standing, shop: Shop) -> str:
    """The amount of a standing's next move at the adjusting point; in degrees where no radius is known; "" if none."""
    step = standing.next
    if step is None or step.amount is None:
        return ""
    return to_type(step.amount, standing.feature, standing.unit, shop)


def to_type(amount: float, feature: str, kind: str, shop: Shop) -> str:
    """An amount of a feature, whose unit inside is `kind`, as it would be typed."""
    if kind == "mm":
        return length_to_type(amount, shop.unit)
    mm = ordered_mm(amount, feature, shop)
    if mm is None:
        return f"{degrees_said(amount, feature).removesuffix('°')}deg"
    return length_to_type(mm, shop.unit)


def amount_shown(standing: Standing, shop: Shop) -> str:
    """The same as a page writes it large: `0.0106 in`, `0.088°`, `0.0070 in/ft`; "" if none."""
    step, typed = standing.next, amount_to_type(standing, shop)
    if step is None or step.amount is None:
        return ""
    if not by_degrees(standing.feature, standing.unit, shop):
        return f"{typed} {shop.unit}"
    return typed.replace("deg", "°") if is_tilt(standing.feature) else brief(step.amount, "rad", shop.unit)


def turned_at(standing: Standing, shop: Shop) -> str:
    """`at the screw`: where that amount is measured, if its order does not say it."""
    return "at the screw" if standing.unit == "rad" and radius_mm(standing.feature, shop) is not None else ""


def length_to_type(mm: float, unit: Unit) -> str:
    """`0.0054` or `0.14`: a small length with the unit left out, as it is read back in that unit."""
    return as_decimal(abs(mm), 4).text if unit == "in" else as_mm(abs(mm), 3).text.removesuffix(" mm")
