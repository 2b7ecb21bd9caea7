"""What can be turned in this shop, and an amount as a person would type it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from trued.advice.order_words import order_said
from trued.equipment.fence_swing import SWINGS, Detents, Turned
from trued.equipment.shop import Shop
from trued.equipment.sides import SledLayout, settable_mm
from trued.procedure import Estimate, Move
from trued.standing.amounts.hand import (
    AT_THE_SCREW,
    Hand,
    HandUnit,
    angle_in_hand,
    hand_of,
    hand_unit,
    is_tilt,
    length_in_hand,
)
from trued.standing.feature import features, find_feature, full_name, named, said
from trued.standing.feature_status import FeatureStatus
from trued.standing.owner import owner_of
from trued.standing.typed_name import name_typed
from trued.units import Unit
from trued.usecases.shop.shop_now import opened, shop_now


@dataclass(frozen=True, slots=True)
class Adjustment:
    """One thing that is turned: its full name, its name in words, its two ways, each as it is ordered.

    unit: what the hand reads there, and what a bare number of it means; `at`: where it is measured, "" where that goes
    without saying.
    """

    feature: str
    name: str
    directions: tuple[str, str]
    orders: tuple[str, str]
    unit: HandUnit
    at: str = ""

    @property
    def unit_said(self) -> str:
        """The unit as it stands beside a field."""
        return {"deg": "°", "mm/300mm": "mm per 300 mm"}.get(self.unit, self.unit)

    def typed(self, text: str) -> str:
        """An amount with its unit where a bare number was typed: it is read as what the hand reads."""
        bare = bool(text) and all(sign.isdigit() or sign in ".,/ " for sign in text)
        return f"{text}{self.unit}" if bare and self.unit not in ("in", "mm") else text


def with_hand_unit(feature: str, number: str, book: Path) -> str:
    """A bare number of an amount, with the unit that the hand reads where that feature is turned."""
    with opened(book) as kept:
        shop = kept.shop()
    full = name_typed(feature, shop)
    known = find_feature(full)
    return number if known is None else f"{number}{hand_unit(full, known.unit, shop)}"


def list_adjustments(book: Path) -> tuple[Adjustment, ...]:
    """Everything that can be turned: what was found here first, as it is at the angles found, then all else."""
    now = shop_now(book)
    found = [standing.feature for standing in now.standings()]
    usual = [full for name in features() for full in _usual(name, now.shop)]
    each = (full for full in dict.fromkeys((*found, *usual)) if not _led(full))
    adjustments = (_adjustment(full, now.shop) for full in each)
    return tuple(one for one in adjustments if one is not None)


def _led(full: str) -> bool:
    """Whether it is moved with another feature of the same adjuster: that one is named alone."""
    known = find_feature(full)
    return known is not None and bool(known.led_by)


def _usual(name: str, shop: Shop) -> Iterator[str]:
    """A feature of the table as this shop has it: of a detent's angle one for each detent that is named."""
    thing = owner_of(name, shop)
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
    orders = order_here(full, one, shop), order_here(full, two, shop)
    unit = hand_unit(full, known.unit, shop)
    at = "at the screw" if known.unit == "rad" and unit in ("in", "mm") else ""
    return Adjustment(full, said(full), known.directions, orders, unit, at)


def order_here(full: str, direction: str, shop: Shop) -> str:
    """`move the left end of the fence away from you`: by the person's sides where the layout of the sled is known."""
    known, thing = find_feature(full), named(full).thing
    fixture = next((one for one in shop.fixtures if one.id == thing), None)
    if fixture is not None and named(full).feature in AT_THE_SCREW:
        layout = SledLayout.known(fixture.word("fence"), fixture.word("keeper"))
        if layout is not None:
            return f"move {layout.fence_turn(opening=direction == 'open')}"
    return order_said(full, direction, known.directions if known is not None else None)


def amount_to_type(standing: FeatureStatus) -> str:
    """The amount of a standing's next move as it is typed: at the adjusting point, else with its unit; "" if none."""
    hand = _hand(standing)
    return hand.typed if hand is not None else ""


def to_type(amount: float, feature: str, kind: str, shop: Shop) -> str:
    """An amount of a feature, whose unit inside is `kind`, as it would be typed."""
    return hand_of(amount, kind, feature, shop, settable=True).typed


def amount_shown(standing: FeatureStatus) -> str:
    """The same as a page writes it large: `0.0106 in`, `0.088°`, `0.0070 in/ft`; "" if none."""
    hand = _hand(standing)
    return hand.shown if hand is not None else ""


def turned_at(standing: FeatureStatus) -> str:
    """`at the screw`: where that amount is measured, if its order does not say it."""
    hand = _hand(standing)
    return hand.at if hand is not None else ""


def _hand(standing: FeatureStatus) -> Hand | None:
    return standing.next.hand if standing.next is not None else None


def hand_of_move(move: Move, estimates: Sequence[Estimate], feature: str, unit: Unit) -> Hand | None:
    """What a check's own move asks of the hand; None where it names no amount.

    feature: its full name. An angle without an adjusting point that is known is told as it shows on the work.
    """
    known = find_feature(feature)
    if move.amount_mm is not None and not is_tilt(feature):
        if known is None or known.unit != "rad":
            return length_in_hand(move.amount_mm, unit)
        return length_in_hand(settable_mm(move.amount_mm, unit), unit, "at the screw")
    found = next((e for e in estimates if e.feature == move.feature and e.unit == "rad"), None)
    if found is None or known is None or not known.adjustable:
        return None
    return angle_in_hand(found.value, "deg" if is_tilt(feature) else "in/ft" if unit == "in" else "mm/300mm")
