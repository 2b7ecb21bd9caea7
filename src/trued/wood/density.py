"""How heavy a material is: from specific gravity and moisture for wood, common practice for panels and trade names.

Wood Handbook ch. 4 (p. 4-10 to 4-12): rho = 1000 kg/m³ · G_x · (1 + x/100), with G_x the dry weight over the volume
at the moisture x; seen in a second copy with the example G 0.4, 12 % -> 448 kg/m³.
From green to x: G_x = G_b / (1 − 0.265·G_b·(1 − x/30)), from memory (volume shrinkage S_v = 26.5·G_b).
"""

from dataclasses import dataclass
from math import isfinite

from trued.errors import InputRefused
from trued.wood.species import Basis, Gravity, Species, known_species_names, species_named, words_of

USUAL_MOISTURE_PERCENT = 12.0

WATER_KG_M3 = 1000.0
_LB_FT3_KG_M3 = 0.45359237 / 0.3048**3
_FIBRE_SATURATION_PERCENT = 30.0
_SHRINKAGE_PER_GRAVITY = 0.265

# Boards of one species differ by about a tenth (coefficient of variation of G, Wood Handbook ch. 4, from memory).
SPECIES_SPREAD = 0.10


@dataclass(frozen=True, slots=True)
class Density:
    """Kilograms in a cubic metre, the range that material of this name commonly has, and where it comes from."""

    kg_m3: float
    low_kg_m3: float
    high_kg_m3: float
    source: str


def _common_practice(usual: float, low: float, high: float) -> Density:
    """From lb/ft³, the figures the trade carries in its head."""
    return Density(usual * _LB_FT3_KG_M3, low * _LB_FT3_KG_M3, high * _LB_FT3_KG_M3, "common practice")


# lb/ft³. Names that cover several species, and panels; as delivered, so moisture does not enter.
_COMMON_PRACTICE = {
    "mdf": _common_practice(48, 44, 53),
    "plywood": _common_practice(40, 34, 46),
    "pine": _common_practice(26, 23, 32),
    "oak": _common_practice(44, 40, 50),
    "maple": _common_practice(44, 34, 48),
}
_OTHER_WORDS = {"ply": "plywood", "medium density fibreboard": "mdf", "medium density fiberboard": "mdf"}


def wood_density_kg_m3(gravity: Gravity, moisture_percent: float) -> float:
    """Weight of wood and its water over the volume at that moisture, in kg/m³. Moisture from 0 to 200 %."""
    if not (isfinite(moisture_percent) and 0 <= moisture_percent <= 200):
        text = "The moisture content must be between 0 and 200 % of the dry weight."
        raise InputRefused.of("moisture", f"{moisture_percent:g} %", text)
    return WATER_KG_M3 * _gravity_at(gravity, moisture_percent) * (1 + moisture_percent / 100)


def density(material: str, *, moisture_percent: float = USUAL_MOISTURE_PERCENT) -> Density:
    """Density of a material by name: a species, `plywood`, `mdf`, or a name of the trade such as `pine`.

    Refused, naming the known materials, when the name is not known or the weight of that wood is not at hand.
    """
    asked = words_of(material)
    for name, known in _COMMON_PRACTICE.items():
        other_words = tuple(words_of(word) for word, means in _OTHER_WORDS.items() if means == name)
        if asked in (words_of(name), *other_words):
            return known
    weighed = _weighed(material)
    values = sorted(wood_density_kg_m3(gravity, moisture_percent) for gravity, _ in weighed)
    middle = (values[0] + values[-1]) / 2
    source = f"{weighed[0][0].source} ({', '.join(wood.name for _, wood in weighed)})"
    return Density(middle, values[0] * (1 - SPECIES_SPREAD), values[-1] * (1 + SPECIES_SPREAD), source)


def density_kg_m3(material: str, *, moisture_percent: float = USUAL_MOISTURE_PERCENT) -> float:
    """The usual density of a material, in kg/m³; see `density` for its range and source."""
    return density(material, moisture_percent=moisture_percent).kg_m3


def known_materials() -> tuple[str, ...]:
    """All names that `density` takes, in the order of the alphabet."""
    woods = (n for n in known_species_names() if any(wood.gravity for wood in species_named(n)))
    return tuple(sorted({*_COMMON_PRACTICE, *woods}))


def _weighed(material: str) -> tuple[tuple[Gravity, Species], ...]:
    try:
        woods = species_named(material)
    except InputRefused:
        woods = ()
    weighed = tuple((wood.gravity, wood) for wood in woods if wood.gravity is not None)
    if not weighed:
        why = "The weight of this wood is not at hand" if woods else "This material is not known"
        text = f"{why}; weigh a piece and give its density, or use one of: {', '.join(known_materials())}."
        raise InputRefused.of("material", material, text)
    return weighed


def _gravity_at(gravity: Gravity, moisture_percent: float) -> float:
    """G on the volume at this moisture. Above fibre saturation wood keeps its size."""
    green = gravity.value if gravity.basis is Basis.GREEN else _green_from_12(gravity.value)
    dryness = max(0.0, 1 - moisture_percent / _FIBRE_SATURATION_PERCENT)
    return green / (1 - _SHRINKAGE_PER_GRAVITY * green * dryness)


def _green_from_12(at_12: float) -> float:
    dryness = 1 - USUAL_MOISTURE_PERCENT / _FIBRE_SATURATION_PERCENT
    return at_12 / (1 + _SHRINKAGE_PER_GRAVITY * at_12 * dryness)
