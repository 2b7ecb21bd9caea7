"""The shop described by answers to a few questions, each of which may be left out; what is said goes the way of a file.

An answer makes the text of a small shop file, which changes what it names and deletes nothing, so that a fault is told
in the same sentences and a fact means the same, wherever it was typed.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from trued.equipment.file.shop_text import quoted
from trued.equipment.fixture_facts import length_text, mass_text
from trued.equipment.saw import BANS, Blade, Saw
from trued.equipment.shop import Shop
from trued.errors import Fault, InputRefused
from trued.units import Unit
from trued.usecases.shop.describe_shop import describe_text

Facts = dict[str, "str | bool | Sequence[str] | Facts"]
"""Of one table of a shop file."""
Given = Mapping[str, Sequence[str]]
"""What was typed or picked, by field."""


@dataclass(frozen=True, slots=True)
class Size:
    """A size to be typed. key: its field; label: what it is; known: in mm, where the shop has it.

    said: how a known one is typed again; hint: its unit, "" for the shop's.
    """

    key: str
    label: str
    known: Callable[[Shop], float | None]
    said: Callable[[float, Unit], str] = length_text
    hint: str = ""


@dataclass(frozen=True, slots=True)
class Choice:
    """One of several, or a tick: the word that is sent, and what it means."""

    word: str
    text: str


def _not_asked(shop: Shop) -> None:
    """Of a question without choices."""
    del shop


def _always(shop: Shop) -> bool:
    del shop
    return True


@dataclass(frozen=True, slots=True)
class ShopQuestion:
    """One question.

    text, needed: the question, and what its answer is needed for. applies: whether this shop has such a thing.
    sizes, choices: what is typed and picked; `several` of the choices may be ticked, none too.
    picked: the words of the choices as the shop is known; None while it was not asked.
    facts: what the answer says, as the tables of a shop file.
    none: what leaving it out is called. later: not asked on the way through, only when a job needs it.
    """

    id: str
    text: str
    needed: str
    facts: Callable[[Shop, Given], Facts]
    sizes: tuple[Size, ...] = ()
    choices: tuple[Choice, ...] = ()
    picked: Callable[[Shop], tuple[str, ...] | None] = _not_asked
    several: bool = False
    applies: Callable[[Shop], bool] = _always
    none: str = "Skip"
    note: str = ""
    later: bool = False

    def typed(self, shop: Shop) -> Given:
        """What would be typed and picked to say what is known."""
        sizes = ((size, size.known(shop)) for size in self.sizes)
        known = {size.key: (size.said(mm, shop.unit),) for size, mm in sizes if mm is not None}
        return known | {"pick": self.picked(shop) or ()}

    def known(self, shop: Shop) -> tuple[str, ...]:
        """Its answer as it is known, in words; () while nothing is."""
        picked = self.picked(shop)
        words = {choice.word: choice.text for choice in self.choices}
        told = [words[word] for word in picked or () if word in words]
        if self.several and picked == ():
            told = ["nothing"]
        sizes = [(size, size.known(shop)) for size in self.sizes]
        return (*told, *(f"{size.label}: {size.said(mm, shop.unit)}" for size, mm in sizes if mm is not None))


def list_questions(shop: Shop) -> tuple[ShopQuestion, ...]:
    """Those that this shop is asked, in their order."""
    return tuple(question for question in _QUESTIONS if question.applies(shop))


def one_question(id: str) -> ShopQuestion:
    """The one of that id; InputRefused for none."""
    for question in _QUESTIONS:
        if question.id == id:
            return question
    raise InputRefused.of("question", id, "There is no such question.")


def describe(question: ShopQuestion, given: Given, shop: Shop, book: Path) -> None:
    """Keep the answer; InputRefused with the fault of each field, and nothing is kept."""
    facts = question.facts(shop, given)
    if not facts:
        raise InputRefused.of("", "", f"Answer it, or press {question.none}.")
    try:
        describe_text(_text({"unit": shop.unit} | facts), book)
    except InputRefused as refused:
        keys = [size.key for size in question.sizes]
        raise InputRefused(*(_beside(fault, keys) for fault in refused.faults)) from refused


def _beside(fault: Fault, keys: Sequence[str]) -> Fault:
    """The fault by the field that it stands beside, where one is named."""
    found = [key for key in keys if fault.where.split()[-1].rsplit(".", 1)[-1].strip('"') == key.rsplit(".", 1)[-1]]
    return Fault(found[0] if len(found) == 1 else "", fault.read, fault.text)


def _text(facts: Facts) -> str:
    """A shop file: `fixture` and `instrument` are lists of tables, by their ids."""
    lines = ["trued = 1", *(f"{key} = {_value(value)}" for key, value in facts.items() if not isinstance(value, dict))]
    for name, table in facts.items():
        if isinstance(table, dict):
            many = name in ("fixture", "instrument")
            for id, rows in table.items() if many else (("", table),):
                lines += ["", f"[[{name}]]" if many else f"[{name}]"]
                own = {"id": id} | rows if many and isinstance(rows, dict) else table
                lines += [f"{key} = {_value(value)}" for key, value in own.items()]
    return "\n".join(lines) + "\n"


def _value(value: str | bool | Sequence[str] | Facts) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{quoted(key)} = {_value(one)}" for key, one in value.items()) + " }"
    return "[" + ", ".join(quoted(one) for one in value) + "]"


# --- what each question says


def _typed(given: Given, key: str) -> str:
    return " ".join((given.get(key) or ("",))[0].split())


def _sizes(given: Given, *keys: str) -> Facts:
    """The sizes that were typed, each by the last word of its key."""
    return {key.rsplit(".", 1)[-1]: text for key in keys if (text := _typed(given, key))}


def _pick(given: Given) -> str:
    return _typed(given, "pick")


def _saw_id(shop: Shop) -> str:
    return shop.saw.id if shop.saw else "saw"


def _saw(shop: Shop, facts: Facts) -> Facts:
    own: Facts = {"id": _saw_id(shop)}
    return {"saw": own | facts} if facts else {}


def _unit(shop: Shop, given: Given) -> Facts:
    return {"unit": _pick(given), "saw": {"id": _saw_id(shop)}} if _pick(given) else {}


def _sled(shop: Shop, facts: Facts) -> Facts:
    sled = shop.sled
    return {"fixture": {sled.id: {"kind": sled.kind} | facts}} if sled is not None and facts else {}


def _of_saw(size: Callable[[Saw], float | None], shop: Shop) -> float | None:
    return size(shop.saw) if shop.saw else None


def _of_blade(size: Callable[[Blade], float | None], shop: Shop) -> float | None:
    return size(shop.blade) if shop.blade else None


def _saw_size(key: str, label: str, of: Callable[[Saw], float | None]) -> Size:
    return Size(key, label, partial(_of_saw, of))


_HAVE = {
    "sled": ("crosscut-sled", "A crosscut sled"),
    "gauge": ("mitre-gauge", "A miter gauge"),
    "wing": ("wing", "A side wing or outfeed table"),
}


def _have(shop: Shop, given: Given) -> Facts:
    """What is ticked is there; what was there and is not ticked is retired, never deleted."""
    ticked = set(given.get("pick") or ())
    tables: Facts = {}
    for word, (kind, _) in _HAVE.items():
        known = [fixture for fixture in shop.fixtures if fixture.kind == kind]
        if word in ticked and all(fixture.retired for fixture in known):
            tables[known[0].id if known else word] = {"kind": kind, "retired": False}
        elif word not in ticked:
            tables |= {one.id: {"kind": kind, "retired": True} for one in known if not one.retired}
    facts: Facts = {"saw": {"id": _saw_id(shop)}}
    return facts | {"fixture": tables} if tables else facts


def _had(shop: Shop) -> tuple[str, ...] | None:
    if shop.saw is None and not shop.fixtures:
        return None
    kinds = {fixture.kind for fixture in shop.in_use}
    return tuple(word for word, (kind, _) in _HAVE.items() if kind in kinds)


_LAYOUTS = tuple(
    Choice(f"{fence} {keeper}", f"Fence on {side}, kept piece {keeper}")
    for fence, side in (("far", "the far side"), ("operator", "your side"))
    for keeper in ("left", "right")
)
_PIVOTS = tuple(
    Choice(f"{pivot} {screw}", f"Pivot {where}, screw on its {which} side")
    for pivot, where in (("near-blade", "beside the blade"), ("far-from-blade", "at the far end"))
    for screw, which in (("keeper", "kept"), ("offcut", "offcut"))
)


def _two(one: str, other: str, shop: Shop, given: Given) -> Facts:
    first, _, second = _pick(given).partition(" ")
    return _sled(shop, {one: first, other: second}) if first and second else {}


def _two_known(one: str, other: str, shop: Shop) -> tuple[str, ...] | None:
    sled = shop.sled
    words = (sled.word(one), sled.word(other)) if sled is not None else ("", "")
    return (" ".join(words),) if all(words) else None


def _sled_size(name: str, shop: Shop) -> float | None:
    return shop.sled.number(name) if shop.sled else None


def _sled_facts(shop: Shop, given: Given) -> Facts:
    """Both sides of the platform, or neither: the file knows them as a pair."""
    facts = _sizes(given, "base", "crosscut", "weight", "centre")
    across, along = _typed(given, "across"), _typed(given, "along")
    if across or along:
        facts["size"] = (across, along)
    return _sled(shop, facts)


def _turns(rpm: float, unit: Unit) -> str:
    del unit
    return f"{rpm:.0f}"


def _fits_saw(shop: Shop, given: Given) -> Facts:
    blade = _sizes(given, "diameter", "bore", "max_speed")
    own: Facts = {"id": shop.blade.id if shop.blade else "first"}
    saw = _saw(shop, _sizes(given, "arbor", "largest_blade", "speed"))
    return saw | ({"blade": own | blade} if blade else {})


def _blade(shop: Shop, given: Given) -> Facts:
    facts = _sizes(given, "kerf", "plate")
    return {"blade": {"id": shop.blade.id if shop.blade else "first"} | facts} if facts else {}


def _slot(shop: Shop, given: Given) -> Facts:
    side = {"slot_side": _pick(given)} if _pick(given) else {}
    return _saw(shop, _sizes(given, "slot") | side)


def _table(shop: Shop, given: Given) -> Facts:
    edges = _sizes(given, "left", "right", "operator", "far")
    return _saw(shop, {"table": edges} if edges else {})


def _heights(shop: Shop, given: Given) -> Facts:
    heights = _sizes(given, "90", "45")
    return _saw(shop, _sizes(given, "rip") | ({"max_cut": heights} if heights else {}))


_FORBIDDEN = {
    "dado-stack": "A dado stack",
    "crosscut-sled": "A crosscut sled",
    "mitre-gauge": "A miter gauge",
    "wing": "A side wing",
    "sled-without-guard": "A sled without a guard over the blade",
    "table-drilled": "Holes drilled in the table",
    "rail-clamped": "Anything clamped to the rails",
    "non-through-cut": "Cuts that do not go through the wood",
}
_INSTRUMENTS = {
    "caliper-1": ("caliper", "Caliper"),
    "rule-1": ("rule", "Rule"),
    "feelers-1": ("feelers", "Feelers: the thinnest step"),
}


def _measuring(shop: Shop, given: Given) -> Facts:
    del shop
    tables: Facts = {
        id: {"kind": kind, "resolution": step}
        for id, (kind, _) in _INSTRUMENTS.items()
        if (step := _typed(given, id.partition("-")[0]))
    }
    return {"instrument": tables} if tables else {}


def _step_of(id: str, shop: Shop) -> float | None:
    return next((one.resolution for one in shop.instruments if one.id == id), None)


def _has_sled(shop: Shop) -> bool:
    return shop.sled is not None


_QUESTIONS = (
    ShopQuestion(
        "unit",
        "Inches or millimeters?",
        "every number",
        _unit,
        choices=(Choice("in", "Inches"), Choice("mm", "Millimeters")),
        picked=lambda shop: (shop.unit,) if shop.saw else None,
    ),
    ShopQuestion(
        "have",
        "What do you have beside the saw?",
        "which checks and cuts there are",
        _have,
        choices=tuple(Choice(word, text) for word, (_, text) in _HAVE.items()),
        picked=_had,
        several=True,
    ),
    ShopQuestion(
        "sled",
        "Which sled is yours?",
        "every left and right",
        partial(_two, "fence", "keeper"),
        choices=_LAYOUTS,
        picked=partial(_two_known, "fence", "keeper"),
        applies=_has_sled,
    ),
    ShopQuestion(
        "pivot",
        "Where do pivot and screw sit?",
        "which end of the fence moves",
        partial(_two, "pivot", "screw"),
        choices=_PIVOTS,
        picked=partial(_two_known, "pivot", "screw"),
        applies=_has_sled,
    ),
    ShopQuestion(
        "radius",
        "How far is the screw from the pivot?",
        "a move in thousandths at the screw",
        lambda shop, given: _sled(shop, _sizes(given, "radius")),
        (Size("radius", "Pivot to screw", lambda shop: shop.sled.number("radius") if shop.sled else None),),
        applies=_has_sled,
    ),
    ShopQuestion(
        "blade",
        "What is printed on the blade?",
        "the layout on boards, and the knife",
        _blade,
        (
            Size("kerf", "Kerf", partial(_of_blade, lambda blade: blade.kerf_mm)),
            Size("plate", "Plate", partial(_of_blade, lambda blade: blade.plate_mm)),
        ),
    ),
    ShopQuestion(
        "knife",
        "How thick is the riving knife?",
        "any rip",
        lambda shop, given: _saw(shop, _sizes(given, "knife")),
        (_saw_size("knife", "Riving knife", lambda saw: saw.knife_mm),),
        note="Type 0 where there is none. Without a knife no rip is planned.",
    ),
    ShopQuestion(
        "slot",
        "How far is the slot from the blade?",
        "the drawings, and where your hands must not be",
        _slot,
        (_saw_size("slot", "Middle of the slot to the blade", lambda saw: saw.slot_mm),),
        (Choice("left", "Left of the blade"), Choice("right", "Right of the blade")),
        lambda shop: (shop.saw.slot_side,) if shop.saw and shop.saw.slot_side else None,
    ),
    ShopQuestion(
        "table",
        "How far does the table reach?",
        "whether a board tips",
        _table,
        (
            _saw_size("left", "Blade to the left edge", lambda saw: saw.table.left_mm),
            _saw_size("right", "Blade to the right edge", lambda saw: saw.table.right_mm),
            _saw_size("operator", "Arbor to the edge at you", lambda saw: saw.table.operator_mm),
            _saw_size("far", "Arbor to the far edge", lambda saw: saw.table.far_mm),
        ),
    ),
    ShopQuestion(
        "heights",
        "How high and how wide can it cut?",
        "which cuts this saw can make",
        _heights,
        (
            _saw_size("90", "Highest cut, blade upright", lambda saw: saw.max_cut_mm.get(90)),
            _saw_size("45", "Highest cut at 45°", lambda saw: saw.max_cut_mm.get(45)),
            _saw_size("rip", "Widest rip", lambda saw: saw.rip_mm),
        ),
    ),
    ShopQuestion(
        "manual",
        "What does the saw’s manual forbid?",
        "every cut",
        lambda shop, given: _saw(shop, {"maker_forbids": [word for word in BANS if word in (given.get("pick") or ())]}),
        choices=tuple(Choice(word, _FORBIDDEN[word]) for word in BANS),
        picked=lambda shop: shop.saw.maker_forbids if shop.saw else None,
        several=True,
        none="I have not looked",
        note="Tick what it forbids, or nothing. What it forbids is never planned.",
    ),
    ShopQuestion(
        "instruments",
        "What do you measure with?",
        "how sure a reading is",
        _measuring,
        tuple(Size(id.partition("-")[0], text, partial(_step_of, id)) for id, (_, text) in _INSTRUMENTS.items()),
        note="Type the smallest step that each shows. Leave out what you do not have.",
    ),
    ShopQuestion(
        "platform",
        "How big is the sled, and what does it weigh?",
        "whether a board tips off the sled",
        _sled_facts,
        (
            Size("across", "Platform, left to right", partial(_sled_size, "size_across")),
            Size("along", "Platform, near to far", partial(_sled_size, "size_along")),
            Size("base", "Platform, how thick", partial(_sled_size, "base")),
            Size("crosscut", "Deepest crosscut", partial(_sled_size, "crosscut")),
            Size("weight", "Weight", partial(_sled_size, "weight"), mass_text, "lb or kg"),
            Size("centre", "Blade to its balance point", partial(_sled_size, "centre")),
        ),
        applies=_has_sled,
        later=True,
        note="Give a weight with its unit: 9 lb, 4 kg.",
    ),
    ShopQuestion(
        "fit",
        "Does the blade suit the saw?",
        "every cut",
        _fits_saw,
        (
            Size("diameter", "Blade: diameter", partial(_of_blade, lambda blade: blade.diameter_mm)),
            Size("bore", "Blade: bore", partial(_of_blade, lambda blade: blade.bore_mm)),
            Size(
                "max_speed",
                "Blade: highest speed",
                partial(_of_blade, lambda blade: blade.max_speed_rpm),
                _turns,
                "rpm",
            ),
            _saw_size("arbor", "Saw: arbor", lambda saw: saw.arbor_mm),
            _saw_size("largest_blade", "Saw: largest blade", lambda saw: saw.largest_blade_mm),
            Size("speed", "Saw: speed", partial(_of_saw, lambda saw: saw.speed_rpm), _turns, "rpm"),
        ),
        later=True,
        note="Read them on the blade and on the plate of the saw.",
    ),
)
