"""How much a species moves across the grain: change per unit of size and per 1 % of moisture content.

Wood Handbook Table 13-5 (FPL-GTR-190, 2010, p. 13-17), for sizes taken near 10 % and moisture between 6 and 14 %.
C_R is for the radial direction (the width of a quartersawn board), C_T for the tangential one (flatsawn).

SEEN rows were read in a copy of the page. MEMORY rows are from memory, and were reproduced from the shrinkages of
the Handbook's Table 4-3 by the table's own rule. A species average: boards of one tree differ.
"""

from dataclasses import dataclass
from enum import StrEnum


class Seen(StrEnum):
    """How a number came here."""

    SEEN = "seen in a copy of the Handbook"
    MEMORY = "from memory"


@dataclass(frozen=True, slots=True)
class Coefficients:
    """Share of the size by which it changes for 1 % of moisture, across the rings and along them."""

    radial: float
    tangential: float
    seen: Seen

    def __post_init__(self) -> None:
        if not 0 < self.radial <= self.tangential < 0.01:
            raise ValueError("a species moves more along its rings than across them, and less than 1 % for 1 %")


def _seen(radial: float, tangential: float) -> Coefficients:
    return Coefficients(radial, tangential, Seen.SEEN)


def _memory(radial: float, tangential: float) -> Coefficients:
    return Coefficients(radial, tangential, Seen.MEMORY)


TABLE_13_5 = {
    "Alder, red": _seen(0.00151, 0.00256),
    "Ash, black": _seen(0.00172, 0.00274),
    "Ash, white": _seen(0.00169, 0.00274),
    "Aspen, quaking": _seen(0.00119, 0.00234),
    "Basswood, American": _seen(0.00230, 0.00330),
    "Beech, American": _seen(0.00190, 0.00431),
    "Birch, paper": _seen(0.00219, 0.00304),
    "Birch, yellow": _seen(0.00256, 0.00338),
    "Butternut": _seen(0.00116, 0.00223),
    "Catalpa, northern": _seen(0.00085, 0.00169),
    "Cherry, black": _seen(0.00126, 0.00248),
    "Chestnut, American": _seen(0.00116, 0.00234),
    "Cottonwood, eastern": _seen(0.00133, 0.00327),
    "Elm, American": _seen(0.00144, 0.00338),
    "Hackberry": _seen(0.00165, 0.00315),
    "Hickory, pecan": _seen(0.00169, 0.00315),
    "Locust, black": _seen(0.00158, 0.00252),
    "Maple, bigleaf": _seen(0.00126, 0.00248),
    "Maple, red": _seen(0.00137, 0.00289),
    "Maple, silver": _seen(0.00102, 0.00252),
    "Maple, sugar": _seen(0.00165, 0.00353),
    "Red oak, commercial": _seen(0.00158, 0.00369),
    "White oak, commercial": _seen(0.00180, 0.00365),
    "Sassafras": _seen(0.00137, 0.00216),
    "Sweetgum": _seen(0.00183, 0.00365),
    "Sycamore, American": _seen(0.00172, 0.00296),
    "Walnut, black": _seen(0.00190, 0.00274),
    "Yellow-poplar": _memory(0.00158, 0.00289),
    "Western redcedar": _memory(0.00111, 0.00234),
    "Douglas-fir, coast": _memory(0.00165, 0.00267),
    "Pine, eastern white": _memory(0.00071, 0.00212),
    "Pine, ponderosa": _memory(0.00133, 0.00216),
    "Redwood, old growth": _memory(0.00120, 0.00205),
    "Redwood, young growth": _memory(0.00101, 0.00229),
    "Spruce, Sitka": _memory(0.00148, 0.00263),
    "Fir, white": _memory(0.00112, 0.00245),  # C_R and the example it stands in were seen, C_T was not
}
