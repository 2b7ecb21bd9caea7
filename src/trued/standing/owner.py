"""Which thing of a shop a feature belongs to: its saw, its blade, a wing, an instrument, or the fixture in use."""

from __future__ import annotations

from trued.equipment.shop import Shop
from trued.standing.feature import named

SAW = "saw"
BLADE = "blade"
WORK = "work"
"""One board, joint or assembly: what was found of one says nothing of the next, so it has no standing."""

_OF_SAW = frozenset(("blade-parallel", "bevel", "table-flat", "table-at-blade", "slot-width", "flange", "wobble"))
_PARTS_OF_SAW = ("rip-", "knife", "insert")
_OF_WORK = ("stock-", "dado-", "box-", "support-")


def owner_of(feature: str, shop: Shop | None, fixture: str = "") -> str:
    """The first part of the feature's full name; `fixture` is the one in use, else the shop's sled."""
    bare = named(feature).feature
    if bare in _OF_SAW or bare.startswith(_PARTS_OF_SAW):
        return SAW
    if bare == "kerf":
        return BLADE  # of whichever blade is on: another blade is an event, and makes it doubtful
    if bare.startswith("wing-"):
        wings = shop.wings if shop is not None else ()
        return next((wing.id for wing in wings), "wing")
    if bare.startswith(_OF_WORK):
        return WORK
    for kind in ("caliper", "tape"):
        if bare.startswith(f"{kind}-"):
            instruments = shop.instruments if shop is not None else ()
            return next((i.id for i in instruments if i.kind == kind), kind)
    if fixture:
        return fixture
    return shop.sled.id if shop is not None and shop.sled is not None else "sled"
