"""The fixtures and instruments of a shop file."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial

from trued.equipment.fence_swing import SWINGS, Detents, detents_text
from trued.equipment.fixture import KINDS, Fixture
from trued.equipment.fixture_facts import FACTS, PAIRS, FactKind, fact_names, read_fact
from trued.equipment.shop import Shop
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.instrument import DEFAULTS, Instrument
from trued.measure.instrument import KINDS as INSTRUMENT_KINDS
from trued.measure.standard_limit import SQUARE_GRADES, TAPE_CLASSES, square_limit_mm, tape_limit_mm
from trued.toml.section import Section
from trued.units import Unit, read_degrees


def read_fixture(section: Section, unit: Unit, known: Shop) -> Fixture | None:
    """One `[[fixture]]`; None when it is at fault. Its kind may be left out where the shop knows it."""
    id = section.id()
    before = next((fixture for fixture in known.fixtures if fixture.id == id), None)
    kind = section.word("kind", KINDS) or (before.kind if before is not None and "kind" not in section else None)
    retired = section.flag("retired")
    if kind is None:
        if "kind" not in section:
            section.refuse("kind", "", f"Say what it is: {', '.join(KINDS)}.")
        return None
    facts = _facts(section, kind, unit)
    section.done(fact_names(kind))
    gone = before.retired if before is not None and retired is None else bool(retired)
    return Fixture(id, kind, facts, gone)


def _facts(section: Section, kind: str, unit: Unit) -> dict[str, str | float]:
    facts: dict[str, str | float] = {}
    for name, fact in FACTS[kind].items():
        if name in PAIRS[kind]:
            continue
        if fact.kind is FactKind.DETENTS:
            value: str | float | None = _detents(section)
        elif name in ("load_tested", "guard"):
            tested = section.flag(name)
            value = None if tested is None else "yes" if tested else "no"
        else:
            value = section.read(name, partial(read_fact, fact, unit=unit))
        if value is not None:
            facts[name] = value
    for name, text in zip(PAIRS[kind], section.pair("size") or (), strict=False):
        size = section.through("size", text, partial(read_fact, FACTS[kind][name], unit=unit))
        if size is not None:
            facts[name] = size
    return facts


def _detents(section: Section) -> str | None:
    """`detents = { open = ["22.5", "45"], closed = ["45"] }`: angles from square in degrees, without the square cut."""
    table = section.table("detents")
    if table is None:
        return None
    sides = {}
    for swing in SWINGS:
        read = [table.through(swing, text, read_degrees) for text in table.texts(swing)]
        sides[swing] = tuple(sorted({round(math.degrees(rad), 6) for rad in read if rad}))
    table.done(SWINGS)
    return detents_text(Detents(sides["open"], sides["closed"])) or None


def read_instrument(section: Section, known: Shop) -> Instrument | None:
    """One `[[instrument]]`; None when it is at fault. What it leaves out is as known, else as usual for its kind."""
    id = section.id()
    before = next((instrument for instrument in known.instruments if instrument.id == id), None)
    kind = section.word("kind", INSTRUMENT_KINDS) or (before.kind if before and "kind" not in section else None)
    if kind is None:
        if "kind" not in section:
            section.refuse("kind", "", f"Say what it is: {', '.join(INSTRUMENT_KINDS)}.")
        return None
    start = before if before is not None and before.kind == kind else replace(DEFAULTS[kind], id=id)
    size = section.angle if kind == "angle-gauge" else section.length
    resolution, limit, repeat = size("resolution"), size("limit"), size("repeat")
    reach = section.length("range") or start.range_mm
    digital, source = section.flag("digital"), section.text("source")
    if standard := _by_standard(section, kind, reach):
        if limit is not None:
            section.refuse("limit", "", "Give its limit of error or its class, not both.")
        limit, source = standard[0], source or standard[1]
    section.done()
    return replace(
        start,
        resolution=resolution or start.resolution,
        limit=limit or start.limit,
        repeat=EstimatedSd(repeat, start.repeat.dof) if repeat else start.repeat,
        range_mm=reach,
        digital=start.digital if digital is None else digital,
        source=source or start.source,
    )


def _by_standard(section: Section, kind: str, reach_mm: float | None) -> tuple[float, str] | None:
    """Limit in mm and its source by the class of a rule or tape (over all that it reads) or a square's grade."""
    if kind in ("rule", "tape") and (name := section.word("class", tuple(TAPE_CLASSES))):
        limit = tape_limit_mm(name, reach_mm or 1000.0, from_hook=True)
        return limit, f"class {name} of OIML R 35-1, from the hook or end, over all its length"
    if kind == "square" and (name := section.word("grade", tuple(SQUARE_GRADES))):
        blade = section.length("blade")
        if blade is None:
            section.refuse("blade", "", "Say how long its blade is: the limit of a grade grows with it.")
            return None
        return square_limit_mm(name, blade), f"grade {name} of DIN 875 (from memory)"
    return None
