"""The woods the tool knows by name: how heavy they are and how much they move.

Specific gravity G is dry weight over volume at 12 % moisture (Wood Handbook Table 5-3, from memory). It is None
where no value is at hand: movement is known, weight is not.
"""

from dataclasses import dataclass
from difflib import get_close_matches
from enum import StrEnum

from trued.errors import InputRefused
from trued.wood.coefficients import TABLE_13_5, Coefficients, Seen


class Basis(StrEnum):
    """The volume that a specific gravity is taken on; the weight is always the dry weight."""

    AT_12_PERCENT = "volume at 12 % moisture"
    GREEN = "volume when green"


@dataclass(frozen=True, slots=True)
class Gravity:
    """Specific gravity, with the volume it was taken on."""

    value: float
    basis: Basis
    source: str

    def __post_init__(self) -> None:
        if not 0.05 < self.value < 1.4:
            raise ValueError("the specific gravity of wood lies between that of balsa and of lignum vitae")


@dataclass(frozen=True, slots=True)
class Species:
    """One wood: its Handbook name, the names the trade has for it, its weight and its movement."""

    name: str
    trade_names: tuple[str, ...]
    gravity: Gravity | None
    coefficients: Coefficients

    @property
    def fibre_saturation_percent(self) -> float:
        """Where shrinking begins: 30 %, and 22 % for redwood and western redcedar (Wood Handbook, from memory)."""
        return 22.0 if self.name.startswith(("Redwood", "Western redcedar")) else 30.0

    @property
    def sources(self) -> tuple[str, ...]:
        """Where the numbers come from, one sentence each."""
        moves = f"movement: Wood Handbook Table 13-5, {self.coefficients.seen}"
        if self.gravity is None:
            return (moves,)
        return (moves, f"weight: {self.gravity.source}, {self.gravity.basis}")


# G at 12 %: Table 5-3, from memory.
_GRAVITY_AT_12 = {
    "Ash, white": 0.60,
    "Beech, American": 0.64,
    "Birch, yellow": 0.62,
    "Cherry, black": 0.50,
    "Douglas-fir, coast": 0.48,
    "Maple, sugar": 0.63,
    "Pine, eastern white": 0.35,
    "Pine, ponderosa": 0.40,
    "Red oak, commercial": 0.63,  # northern red oak
    "Redwood, old growth": 0.40,
    "Spruce, Sitka": 0.40,  # seen quoted from an older edition; not checked against the last one
    "Walnut, black": 0.55,
    "Western redcedar": 0.32,
    "White oak, commercial": 0.68,
    "Yellow-poplar": 0.42,
}

# A name may stand under several species: what it then means is a range.
_TRADE_NAMES = {
    "Alder, red": ("alder",),
    "Ash, black": ("ash",),
    "Ash, white": ("ash",),
    "Aspen, quaking": ("aspen",),
    "Basswood, American": ("basswood",),
    "Beech, American": ("beech",),
    "Birch, paper": ("birch",),
    "Birch, yellow": ("birch",),
    "Cherry, black": ("cherry",),
    "Chestnut, American": ("chestnut",),
    "Cottonwood, eastern": ("cottonwood",),
    "Douglas-fir, coast": ("douglas fir",),
    "Elm, American": ("elm",),
    "Fir, white": ("fir",),
    "Hickory, pecan": ("hickory", "pecan"),
    "Maple, bigleaf": ("maple", "soft maple"),
    "Maple, red": ("maple", "soft maple"),
    "Maple, silver": ("maple", "soft maple"),
    "Maple, sugar": ("maple", "hard maple"),
    "Pine, eastern white": ("pine", "white pine"),
    "Pine, ponderosa": ("pine",),
    "Red oak, commercial": ("oak", "red oak"),
    "Redwood, old growth": ("redwood",),
    "Redwood, young growth": ("redwood",),
    "Spruce, Sitka": ("spruce",),
    "Sycamore, American": ("sycamore",),
    "Walnut, black": ("walnut",),
    "Western redcedar": ("cedar", "redcedar"),
    "White oak, commercial": ("oak", "white oak"),
    "Yellow-poplar": ("poplar", "tulipwood"),
}


def _species(name: str, coefficients: Coefficients) -> Species:
    at_12 = _GRAVITY_AT_12.get(name)
    source = f"Wood Handbook Table 5-3, {Seen.MEMORY}"
    gravity = None if at_12 is None else Gravity(at_12, Basis.AT_12_PERCENT, source)
    return Species(name, _TRADE_NAMES.get(name, ()), gravity, coefficients)


SPECIES = tuple(_species(name, coefficients) for name, coefficients in TABLE_13_5.items())


def species_named(name: str) -> tuple[Species, ...]:
    """Every species that a name can mean: one for `sugar maple`, four for `maple`.

    Case, commas, hyphens and the order of the words do not count. Refused, naming the known ones, when none fits.
    """
    asked = words_of(name)
    found = tuple(wood for wood in SPECIES if any(words_of(n) == asked for n in (wood.name, *wood.trade_names)))
    if not found:
        known = known_species_names()
        near = get_close_matches(name.lower(), known, n=3, cutoff=0.7)
        meant = f"did you mean {' or '.join(near)}?" if near else f"known are: {'; '.join(known)}."
        raise InputRefused.of("species", name, f"This wood is not known; {meant}")
    return found


def known_species_names() -> tuple[str, ...]:
    """All names that `species_named` takes, in the order of the alphabet."""
    return tuple(sorted({n for wood in SPECIES for n in (wood.name.lower(), *wood.trade_names)}))


def words_of(name: str) -> tuple[str, ...]:
    """The words of a name in a fixed order, so that `Maple, sugar` and `sugar maple` are one."""
    return tuple(sorted(name.casefold().replace(",", " ").replace("-", " ").split()))
