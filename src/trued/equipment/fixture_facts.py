"""What may be said of a fixture: each fact with its kind, its words, and the kinds of fixture that have it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from trued import units
from trued.equipment.shop import Shop
from trued.errors import InputRefused
from trued.units import MM_PER_INCH, Unit
from trued.units.nearest import nearest


class FactKind(StrEnum):
    """How a fact is written and kept."""

    LENGTH = "length"  # mm
    MASS = "mass"  # kg
    THREAD = "thread"  # pitch in mm
    WORD = "word"
    TEXT = "text"  # in the person's own words
    DETENTS = "detents"  # angles at which a fence is held, by the side it swings to


@dataclass(frozen=True, slots=True)
class ShopFact:
    """One fact. `may_be_0`: a length that is 0 says something too."""

    name: str
    text: str
    kind: FactKind = FactKind.LENGTH
    words: tuple[str, ...] = ()
    may_be_0: bool = False


_SLED = (
    ShopFact("fence", "the side of the sled that its fence is on", FactKind.WORD, ("far", "operator")),
    ShopFact("keeper", "the side of the blade that the keeper lies on", FactKind.WORD, ("left", "right")),
    ShopFact("pivot", "where the fence turns", FactKind.WORD, ("near-blade", "far-from-blade")),
    ShopFact("screw", "the side of the pivot that the adjusting screw is on", FactKind.WORD, ("keeper", "offcut")),
    ShopFact("screw_moves", "what that screw moves", FactKind.WORD, ("zero-stop", "fence-arm")),
    ShopFact("radius", "from the pivot to where screw or feeler touches the fence"),
    ShopFact("thread", "thread of the adjusting screw", FactKind.THREAD),
    ShopFact("cursor", "what moves when the stop moves", FactKind.WORD, ("rides", "scale-moves")),
    ShopFact("offset", "the offset written on the fence"),
    ShopFact("scale_step", "the smallest step the stop can be set to"),
    ShopFact("bar", "length of the bar"),
    ShopFact("crosscut", "deepest board that can be crosscut"),
    ShopFact("size_across", "size of the platform across the slot"),
    ShopFact("size_along", "size of the platform along the slot"),
    ShopFact("base", "thickness of the platform"),
    ShopFact("weight", "weight", FactKind.MASS),
    ShopFact("centre", "from the blade to the sled's centre of mass"),
    ShopFact("facing", "thickness of the facing"),
    ShopFact("face", "how far the fence's face is in front of its pivot"),
    ShopFact("pivot_beside", "from the pivot across to the plane of the blade"),
    ShopFact("metal_end", "how far metal of the fence reaches from the pivot toward the blade"),
    ShopFact("metal_front", "how far that metal reaches in front of the pivot", may_be_0=True),
    ShopFact("metal_back", "how far that metal reaches behind the pivot", may_be_0=True),
    ShopFact("detents", "the angles at which the fence is held, swung open and swung closed", FactKind.DETENTS),
    ShopFact("guard", "whether a guard stands over the blade at the sled's exit", FactKind.WORD, ("yes", "no")),
)
_WING = (
    ShopFact("side", "the side of the table it stands at", FactKind.WORD, ("keeper", "offcut", "operator", "far")),
    ShopFact("size_out", "how far it reaches out from the table"),
    ShopFact("size_along", "how long it is along the edge of the table"),
    ShopFact("low", "how far it is set below the table", may_be_0=True),
    ShopFact("weight", "weight", FactKind.MASS),
    ShopFact("load_tested", "whether it was load-tested cold", FactKind.WORD, ("yes", "no")),
    ShopFact("counted_because", "why it is counted though it was not load-tested", FactKind.TEXT),
    ShopFact("held", "what holds it", FactKind.WORD, ("floor", "bolted", "table-drilled", "rail-clamped")),
)

FACTS: dict[str, dict[str, ShopFact]] = {
    "crosscut-sled": {fact.name: fact for fact in _SLED},
    "mitre-gauge": {fact.name: fact for fact in _SLED},
    "wing": {fact.name: fact for fact in _WING},
}
"""Kind of fixture -> its facts by name."""

PAIRS: dict[str, tuple[str, str]] = {
    "crosscut-sled": ("size_across", "size_along"),
    "mitre-gauge": ("size_across", "size_along"),
    "wing": ("size_out", "size_along"),
}
"""What the two sizes of `size = ["20", "18"]` are, by kind of fixture."""


def read_fact(fact: ShopFact, text: str, unit: Unit) -> str | float:
    """A fact as written: a word, or mm or kg."""
    if fact.kind is FactKind.WORD:
        word = text.strip().lower()
        if word not in fact.words:
            raise InputRefused.of("", text, f"{fact.text}: {nearest(word, fact.words)}")
        return word
    if fact.kind in (FactKind.TEXT, FactKind.DETENTS):
        if not text.strip():
            raise InputRefused.of("", text, "Say why, or leave it out.")
        return " ".join(text.split())
    if fact.kind is FactKind.MASS:
        value = units.read_mass(text)
    elif fact.kind is FactKind.THREAD:
        value = units.read_thread(text)
    else:
        value = units.read_length(text, unit).mm
    if value <= 0.0 and not fact.may_be_0:
        raise InputRefused.of("", text, "This must be more than 0.")
    return value


def fact_text(fact: ShopFact, value: str | float, unit: Unit) -> str:
    """A fact as it is written in a shop file."""
    if isinstance(value, str):
        return value
    if fact.kind is FactKind.MASS:
        return mass_text(value, unit)
    return thread_text(value) if fact.kind is FactKind.THREAD else length_text(value, unit)


def length_text(mm: float, unit: Unit) -> str:
    """A length that reads back as the same number: a fraction or decimal of inches in an inch shop, else mm."""
    if unit == "in":
        inches = Fraction(mm) / MM_PER_INCH
        for shown in (units.as_fraction(mm, 128), *(units.as_decimal(mm, digits) for digits in range(1, 8))):
            if shown.value.mm == mm and inches:
                return shown.text
    plain = units.as_mm(mm, 7).text.removesuffix(" mm").rstrip("0").rstrip(".")
    return plain if unit == "mm" else f"{plain}mm"


def thread_text(pitch_mm: float) -> str:
    """A thread by its turns in an inch where that is whole, else by its pitch."""
    turns = float(MM_PER_INCH) / pitch_mm
    whole = f"{round(turns)}/in"
    if round(turns) and units.read_thread(whole) == pitch_mm:
        return whole
    return f"{_digits(pitch_mm)}mm"


def mass_text(kg: float, unit: Unit) -> str:
    """A weight that reads back as the same number, in pounds or kilograms."""
    names = ("lb", "kg") if unit == "in" else ("kg", "lb")
    for name in names:
        size = units.read_mass(f"1{name}")
        for digits in range(7):
            text = f"{kg / size:.{digits}f} {name}"
            if units.read_mass(text) == kg:
                return text
    return f"{_digits(kg)} kg"


def facts_for(shop: Shop, fixture: str) -> dict[str, str]:
    """The facts of a fixture, and of the saw and blade under it, as texts that say their own unit.

    A form takes from them what it asks for. Lengths are in mm, exactly as they are kept.
    """
    thing = shop.fixture(fixture)
    facts = FACTS[thing.kind]
    texts = {name: fact_text(facts[name], value, "mm") for name, value in thing.facts.items()}
    texts = {name: _marked(facts[name].kind, text) for name, text in texts.items()}
    return _saw_facts(shop) | texts


def _saw_facts(shop: Shop) -> dict[str, str]:
    texts: dict[str, str] = {}
    lengths: list[tuple[str, float | None]] = []
    if shop.saw is not None:
        lengths += [("slot", shop.saw.slot_mm), ("knife", shop.saw.knife_mm)]
        texts |= {"tilts_to": shop.saw.tilts_to} if shop.saw.tilts_to else {}
    if shop.blade is not None:
        lengths += [("plate", shop.blade.plate_mm), ("marked", shop.blade.kerf_mm)]
        texts |= {"flange": shop.blade.flange} if shop.blade.flange else {}
    return texts | {name: f"{length_text(mm, 'mm')}mm" for name, mm in lengths if mm is not None}


def _marked(kind: FactKind, text: str) -> str:
    return f"{text}mm" if kind is FactKind.LENGTH else text


def _digits(value: float) -> str:
    return f"{value:.7f}".rstrip("0").rstrip(".")


def fact_names(kind: str) -> Sequence[str]:
    """What a file may say of a fixture of that kind."""
    first, second = PAIRS[kind]
    return [name for name in FACTS[kind] if name not in (first, second)] + ["size"]
