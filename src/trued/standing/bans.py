"""What must not be used in a shop, whatever the sums say: a sled, a knife or a blade, each with its reason.

What is not known is not judged here. Nothing that a person types takes a ban away.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from trued.equipment.fixture import Fixture
from trued.equipment.pivoting_fence import metal_in_the_way
from trued.equipment.saw import Blade, Saw
from trued.equipment.shop import Shop
from trued.standing.feature import named
from trued.standing.feature_status import FeatureStatus

SAME_BORE_MM = 0.2  # bores differ by millimetres, a reading of one by tenths: common practice


@dataclass(frozen=True, slots=True)
class Ban:
    """Why a station of the shop is not planned with."""

    code: str
    text: str


def narrowest(shop: Shop, standings: Sequence[FeatureStatus], kerf_mm: float | None) -> float | None:
    """The kerf that the knife must clear: of that used and that found here (else marked) the narrower, in mm.

    A finding that waits to be confirmed makes it narrower, never wider.
    """
    found = [s for s in standings if named(s.feature).feature == "kerf" and not s.stale]
    counts = [s.x.value for s in found if s.believed]
    marked = shop.blade.kerf_mm if shop.blade is not None else None
    own: list[float | None] = [*counts] if counts else [marked]
    told = [kerf_mm, *own, *(s.x.value for s in found if not s.believed)]
    return min((mm for mm in told if mm is not None), default=None)


def sled_fault(saw: Saw | None, sled: Fixture) -> Ban | None:
    """Why nothing is cut on this sled, whatever the sums say; None where nothing is known against it."""
    if saw is not None and saw.forbids(sled.kind):
        return Ban("maker-forbids", f"The saw's maker forbids a {sled.kind.replace('-', ' ')}.")
    if saw is not None and saw.forbids("sled-without-guard") and sled.word("guard") != "yes":
        text = f"The saw's maker forbids a sled without a guard, and {sled.id} has none in the shop file."
        return Ban("maker-forbids", text)
    if metal_in_the_way(sled):
        return Ban("metal", f"Metal of the fence of {sled.id} stands in the blade's way.")
    return None


def knife_fault(saw: Saw, kerf_mm: float | None, blade: Blade | None) -> str:
    """A riving knife is thicker than the plate and thinner than the kerf; an unknown one is not judged here."""
    knife = saw.knife_mm
    if knife is None:
        return ""
    if knife <= 0.0:
        return "The saw has no riving knife."
    if kerf_mm is not None and knife >= kerf_mm:
        return "The riving knife is as thick as the kerf or thicker: the wood would bind on it."
    if blade is not None and blade.plate_mm is not None and knife <= blade.plate_mm:
        return "The riving knife is no thicker than the blade's plate: it would not keep the kerf open."
    return ""


def blade_fault(saw: Saw, blade: Blade | None) -> str:
    """A blade that is too large, too slow for the saw or of another bore; what is not known is not judged here."""
    if blade is None:
        return ""
    if _above(blade.diameter_mm, saw.largest_blade_mm):
        return "The blade is larger than the saw takes."
    if _above(saw.speed_rpm, blade.max_speed_rpm):
        return "The saw turns faster than the blade may."
    if blade.bore_mm is not None and saw.arbor_mm is not None and abs(blade.bore_mm - saw.arbor_mm) > SAME_BORE_MM:
        return "The bore of the blade is not that of the saw's arbor."
    return ""


def _above(one: float | None, other: float | None) -> bool:
    return one is not None and other is not None and one > other
