"""A shop written as a file again: `read_shop(shop_text(shop))` is the same shop."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from trued.equipment.fence_swing import SWINGS, Detents, detents_of, plain_degrees
from trued.equipment.file.read_shop import FORMAT
from trued.equipment.fixture import Fixture
from trued.equipment.fixture_facts import FACTS, PAIRS, FactKind, fact_text, length_text, mass_text
from trued.equipment.saw import Blade, Saw
from trued.equipment.shop import Shop
from trued.measure.instrument import Instrument
from trued.units import Unit


def shop_text(shop: Shop) -> str:
    """TOML text in the shop's own unit."""
    lines = [f"trued = {FORMAT}", f"name = {quoted(shop.name)}", f'unit = "{shop.unit}"']
    if shop.saw is not None:
        lines += ["", "[saw]", *_saw(shop.saw, shop.unit)]
    if shop.blade is not None:
        lines += ["", "[blade]", *_blade(shop.blade, shop.unit)]
    for fixture in shop.fixtures:
        lines += ["", "[[fixture]]", *_fixture(fixture, shop.unit)]
    for instrument in shop.instruments:
        lines += ["", "[[instrument]]", *_instrument(instrument, shop.unit)]
    return "\n".join(lines) + "\n"


def _saw(saw: Saw, unit: Unit) -> Iterator[str]:
    yield f"id = {quoted(saw.id)}"
    table = saw.table
    edges = {"left": table.left_mm, "right": table.right_mm, "operator": table.operator_mm, "far": table.far_mm}
    if any(mm is not None for mm in edges.values()):
        yield f"table = {_inline(edges, unit)}"
    yield from _lengths({"slot": saw.slot_mm, "feet": saw.feet_mm, "rip": saw.rip_mm}, unit)
    yield from _lengths({"least_rip": saw.least_rip_mm, "knife": saw.knife_mm, "arbor": saw.arbor_mm}, unit)
    yield from _lengths({"largest_blade": saw.largest_blade_mm, "knife_behind": saw.knife_behind_mm}, unit)
    yield from _words({"slot_side": saw.slot_side, "tilts_to": saw.tilts_to})
    if saw.weight_kg is not None:
        yield f"weight = {quoted(mass_text(saw.weight_kg, unit))}"
    if saw.speed_rpm is not None:
        yield f'speed = "{saw.speed_rpm}"'
    if saw.max_cut_mm:
        yield f"max_cut = {_inline({str(angle): mm for angle, mm in saw.max_cut_mm.items()}, unit)}"
    if saw.maker_forbids is not None:
        yield f"maker_forbids = [{', '.join(quoted(word) for word in saw.maker_forbids)}]"


def _blade(blade: Blade, unit: Unit) -> Iterator[str]:
    yield f"id = {quoted(blade.id)}"
    lengths = {"plate": blade.plate_mm, "kerf": blade.kerf_mm, "diameter": blade.diameter_mm, "bore": blade.bore_mm}
    yield from _lengths(lengths, unit)
    yield from _words({"flange": blade.flange})
    if blade.max_speed_rpm is not None:
        yield f'max_speed = "{blade.max_speed_rpm}"'


def _fixture(fixture: Fixture, unit: Unit) -> Iterator[str]:
    yield f"id = {quoted(fixture.id)}"
    yield f"kind = {quoted(fixture.kind)}"
    known, pair = FACTS[fixture.kind], PAIRS[fixture.kind]
    for name, value in fixture.facts.items():
        if name in ("load_tested", "guard"):
            yield f"{name} = {'true' if value == 'yes' else 'false'}"
        elif known[name].kind is FactKind.DETENTS and isinstance(value, str):
            yield f"detents = {{ {_detents(detents_of(value))} }}"
        elif name not in pair:
            yield f"{name} = {quoted(fact_text(known[name], value, unit))}"
    if all(name in fixture.facts for name in pair):
        sizes = (quoted(fact_text(known[name], fixture.facts[name], unit)) for name in pair)
        yield f"size = [{', '.join(sizes)}]"
    if fixture.retired:
        yield "retired = true"


def _detents(detents: Detents) -> str:
    sides = ((swing, detents.of(swing)) for swing in SWINGS)
    return ", ".join(
        f"{swing} = [{', '.join(quoted(plain_degrees(angle)) for angle in angles)}]"
        for swing, angles in sides
        if angles
    )


def _instrument(instrument: Instrument, unit: Unit) -> Iterator[str]:
    yield f"id = {quoted(instrument.id)}"
    yield f"kind = {quoted(instrument.kind)}"
    sizes = {"resolution": instrument.resolution, "limit": instrument.limit, "repeat": instrument.repeat.s}
    if instrument.kind == "angle-gauge":
        yield from (f'{name} = "{rad * 1000.0:.7f}mrad"' for name, rad in sizes.items())
    else:
        yield from _lengths(sizes, unit)
    yield from _lengths({"range": instrument.range_mm}, unit)
    yield f"digital = {'true' if instrument.digital else 'false'}"
    yield f"source = {quoted(instrument.source)}"


def _lengths(sizes: Mapping[str, float | None], unit: Unit) -> Iterator[str]:
    yield from (f"{name} = {quoted(length_text(mm, unit))}" for name, mm in sizes.items() if mm is not None)


def _words(words: Mapping[str, str | None]) -> Iterator[str]:
    yield from (f"{name} = {quoted(word)}" for name, word in words.items() if word is not None)


def _inline(sizes: Mapping[str, float | None], unit: Unit) -> str:
    pairs = (f'"{name}" = {quoted(length_text(mm, unit))}' for name, mm in sizes.items() if mm is not None)
    return f"{{ {', '.join(pairs)} }}"


def quoted(text: str) -> str:
    """A basic string of TOML 1.0: quotes, backslashes and control characters are escaped."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return '"' + "".join(c if c >= " " and c != "\x7f" else f"\\u{ord(c):04x}" for c in escaped) + '"'
