"""Why a station may not make a cut, in words that name the figure and what would make it lawful."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache

from trued.plan.support.sled_cut import SledCut
from trued.plan.support.statics import STANDARD_GRAVITY
from trued.plan.support.support import SupportFinding, support_of

TOO_THICK, TIPS, RIP_TIPS, RIP_HEAVY = "too-thick", "tips", "rip-tips", "rip-heavy"


@dataclass(frozen=True, slots=True)
class Refusal:
    """One station's refusal of one cut.

    wanted_mm, there_mm: the height that the blade must stand and the one that it can; the reach of a support that is
    wanted behind the table. base_mm: of the sled, a part of that height. newton: what a hand would have to hold.
    cut: the cut on the sled that is not carried.
    """

    code: str
    station: str
    wanted_mm: float = 0.0
    there_mm: float = 0.0
    newton: float = 0.0
    cut: SledCut | None = None
    base_mm: float = 0.0

    def text(self, length: Callable[[float], str]) -> str:
        """Why not, with its figure; `length` writes millimetres."""
        if self.code == TOO_THICK:
            if self.station == "sled":
                where, goes = "on the sled the blade must stand", "the saw reaches"
            elif self.station == "rip fence":
                where, goes = "at the rip fence the blade must stand", "the saw reaches"
            else:
                return f"the {self.station} is counted on for {length(self.there_mm)} of thickness"
            return f"{where} {length(self.wanted_mm)} up, {goes} {length(self.there_mm)}"
        if self.code == TIPS and self.cut is not None:
            return f"on the sled it is not carried: {_judged(self.cut).problem_words(length)}"
        if self.code == TIPS:
            return "at the gauge its middle would not lie over table and wings all the way"
        pounds = self.newton / STANDARD_GRAVITY / 0.45359237
        if self.code == RIP_HEAVY:
            return f"at the rip fence the hands would carry {pounds:.0f} lb at the start"
        return f"at the rip fence its end would tip off the table, held down with {pounds:.0f} lb"

    def way(self, length: Callable[[float], str]) -> str:
        """What would make it lawful there."""
        if self.code == TOO_THICK:
            bare = self.station == "sled" and self.wanted_mm - self.base_mm <= self.there_mm
            return "at a miter gauge without a base" if bare else ""
        if self.code == TIPS and self.cut is not None:
            mends = _judged(self.cut).mend_words(length)
            return mends.removeprefix("Smallest change that mends it: ").rstrip(".") if "Smallest" in mends else ""
        if self.code == TIPS:
            return "with a load-tested wing in the shop file"
        if self.code == RIP_HEAVY:
            return "with a stand before the table that is load-tested and in the shop file"
        return f"with a support that reaches {length(self.wanted_mm)} behind the table, load-tested, in the shop file"


@lru_cache(maxsize=1024)
def _judged(cut: SledCut) -> SupportFinding:
    """What the sums find of a cut; asked for its reason and for its way out."""
    return support_of(cut)
