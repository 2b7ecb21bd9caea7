"""Which thing of a shop a feature belongs to: its saw, its blade, a wing, an instrument, or the fixture in use."""

from __future__ import annotations

from trued.equipment.shop import Shop
from trued.standing.feature import find_feature

SAW = "saw"
BLADE = "blade"
WORK = "work"
"""One board, joint or assembly: what was found of one says nothing of the next, so it has no standing."""


def owner_of(feature: str, shop: Shop | None, fixture: str = "") -> str:
    """The first part of the feature's full name; `fixture` is the one in use, else the shop's sled."""
    known = find_feature(feature)
    owner = known.owner if known is not None else "fixture"
    if owner in (SAW, BLADE, WORK):  # of whichever blade is on: another one is an event, and makes it doubtful
        return owner
    if owner == "wing":
        wings = shop.wings if shop is not None else ()
        return next((wing.id for wing in wings), owner)
    if owner in ("caliper", "tape"):
        instruments = shop.instruments if shop is not None else ()
        return next((i.id for i in instruments if i.kind == owner), owner)
    if fixture:
        return fixture
    return shop.sled.id if shop is not None and shop.sled is not None else "sled"
