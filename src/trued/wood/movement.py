"""How much a board changes in width or thickness between two moisture contents.

Wood Handbook ch. 13 (FPL-GTR-190 p. 13-16; FPL-GTR-282 the same):

    eq. 13-2, between 6 and 14 %:   change = size · C · (M_F − M_I)                              (seen in use)
    eq. 13-3, outside it:           change = size · (M_F − M_I) / (30·100/S − 30 + M_I)          (from memory)

S is the shrinkage in % from green to dry. Table 13-5 itself follows C = 1/(M·100/S − M + 10) with M the fibre
saturation, so eq. 13-3 is written here without S as size · (M_F − M_I) / (1/C − 10 + M_I): one table serves both, and
at 10 % both give the same. Neither moisture may lie above fibre saturation: wetter wood does not move.
"""

from enum import StrEnum
from math import isfinite

from trued.errors import Faults
from trued.wood.moisture import MoistureRange
from trued.wood.species import Species

LINEAR_PERCENT = (6.0, 14.0)

# One board of a species against the table's average: coefficient of variation about 15 % (from memory, ch. 4).
BOARD_SPREAD = 0.15


class Grain(StrEnum):
    """Which way the growth rings lie to the size in question."""

    FLATSAWN = "flatsawn"
    QUARTERSAWN = "quartersawn"
    UNKNOWN = "unknown"
    ALONG = "along the grain"


def coefficients_of(species: Species, grain: Grain) -> tuple[float, float]:
    """Least and greatest change per unit of size and 1 % of moisture; equal where the grain is known.

    Along the grain sound wood hardly moves (0.1 to 0.2 % from green to dry, Wood Handbook ch. 4, from memory): 0.
    """
    radial, tangential = species.coefficients.radial, species.coefficients.tangential
    return {
        Grain.FLATSAWN: (tangential, tangential),
        Grain.QUARTERSAWN: (radial, radial),
        Grain.UNKNOWN: (radial, tangential),
        Grain.ALONG: (0.0, 0.0),
    }[grain]


def change_mm(
    size_mm: float, coefficient: float, from_percent: float, to_percent: float, *, fibre_saturation: float = 30.0
) -> float:
    """Change of a size in mm, positive when it grows: eq. 13-2 between 6 and 14 %, else eq. 13-3.

    size_mm: the size at `from_percent`. coefficient: as in Table 13-5. Refused above fibre saturation.
    """
    _refuse_bad(size_mm, from_percent, to_percent, fibre_saturation)
    low, high = LINEAR_PERCENT
    if coefficient == 0:
        return 0.0
    if low <= min(from_percent, to_percent) and max(from_percent, to_percent) <= high:
        return size_mm * coefficient * (to_percent - from_percent)
    return size_mm * (to_percent - from_percent) / (1 / coefficient - 10 + from_percent)


def change_range_mm(
    size_mm: float, species: Species, grain: Grain, made_at: MoistureRange, year: MoistureRange
) -> tuple[float, float]:
    """Least and greatest change in mm from the moisture a part was made at to any moisture of the year.

    The change rises with where it ends and falls with where it began, so the corners of the two ranges hold it
    (to within the 2 % of the change by which eq. 13-2 and 13-3 differ at 6 and 14 %).
    """
    saturation = species.fibre_saturation_percent
    changes = [
        change_mm(size_mm, coefficient, begin, end, fibre_saturation=saturation)
        for coefficient in coefficients_of(species, grain)
        for begin in (made_at.low_percent, made_at.high_percent)
        for end in (year.low_percent, year.high_percent)
    ]
    return min(changes), max(changes)


def _refuse_bad(size_mm: float, from_percent: float, to_percent: float, fibre_saturation: float) -> None:
    faults = Faults()
    if not (isfinite(size_mm) and size_mm > 0):
        faults.add("size", f"{size_mm:g} mm", "The size across the grain must be more than 0.")
    for where, percent in (("moisture before", from_percent), ("moisture after", to_percent)):
        if not 0 <= percent <= fibre_saturation:
            text = f"The moisture must be between 0 and {fibre_saturation:g} %: wetter wood does not move with it."
            faults.add(where, f"{percent:g} %", text)
    faults.raise_if_any()
