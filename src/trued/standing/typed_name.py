"""A feature as a person names it, barely or whole, with the angle and side that this shop's fixture makes of it."""

from __future__ import annotations

from trued.equipment.fence_swing import SWINGS, UNTOLD, Detents, Turned, turned_of
from trued.equipment.shop import Shop
from trued.errors import InputRefused
from trued.standing.feature import feature_of, full_name, named
from trued.standing.history.old_names import now_called
from trued.standing.owner import owner_of

_OF_A_DETENT = ("detent-angle", "detent-repeat", "detent-backlash")


def name_typed(feature: str, shop: Shop) -> str:
    """The full name; InputRefused, with the names that are meant, where the angle or its side is missing or wrong."""
    now = now_called("feature", feature)
    parts, known = named(now), feature_of(now)
    thing = parts.thing or owner_of(now, shop)
    lead = f"{thing}.{parts.feature}"
    if known.angles == "square" and parts.angle not in ("", "0"):
        raise InputRefused.of(
            "feature", feature, _corner_said(thing, _detents(shop, thing).nearest(turned_of(parts.angle)))
        )
    if known.angles != "swing" or parts.angle == UNTOLD:
        return full_name(thing, now, parts.angle)
    if not parts.angle and parts.feature in _OF_A_DETENT:
        text = f"Say at which angle: {lead}@45closed, or {lead}@45open."
        raise InputRefused.of("feature", feature, text)
    turned = _detents(shop, thing).nearest(turned_of(parts.angle or "0"))
    if not turned.square and turned.swing not in SWINGS:
        names = " or ".join(f"{lead}@{Turned(turned.degrees, swing).suffix}" for swing in SWINGS)
        raise InputRefused.of("feature", feature, f"Say to which side the fence is swung: {names}.")
    return full_name(thing, parts.feature, turned.suffix)


def _corner_said(thing: str, turned: Turned) -> str:
    """What the corner of a cut is called that is not square."""
    swings = [turned.swing] if turned.swing else list(SWINGS)
    names = " or ".join(f"{thing}.detent-angle@{Turned(turned.degrees, swing).suffix}" for swing in swings)
    return f"The fence angle is that of the square cut. The corner of this cut is {names}."


def _detents(shop: Shop, thing: str) -> Detents:
    return next((fixture.detents for fixture in shop.fixtures if fixture.id == thing), Detents())
