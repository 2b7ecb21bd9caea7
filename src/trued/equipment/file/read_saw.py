"""The saw and the blade of a shop file."""

from __future__ import annotations

import re
from typing import cast

from trued.equipment.saw import BANS, Blade, Hand, Saw, Table
from trued.toml.section import Section

_HANDS = ("left", "right")


def _hand(section: Section, key: str) -> Hand | None:
    return cast("Hand | None", section.word(key, _HANDS))


def read_saw(section: Section) -> Saw:
    """The saw of a `[saw]` table; what it does not say stays None."""
    saw = Saw(
        id=section.id("saw"),
        table=_table(section.table("table")),
        slot_mm=section.length("slot"),
        slot_side=_hand(section, "slot_side"),
        weight_kg=section.mass("weight"),
        feet_mm=section.length("feet"),
        max_cut_mm=_max_cut(section.table("max_cut")),
        tilts_to=_hand(section, "tilts_to"),
        rip_mm=section.length("rip"),
        least_rip_mm=section.length("least_rip"),
        knife_mm=section.length("knife", may_be_0=True),
        knife_behind_mm=section.length("knife_behind", may_be_0=True),
        arbor_mm=section.length("arbor"),
        largest_blade_mm=section.length("largest_blade"),
        speed_rpm=section.count("speed"),
        maker_forbids=section.words("maker_forbids", BANS),
    )
    section.done()
    return saw


def _table(section: Section | None) -> Table:
    if section is None:
        return Table()
    table = Table(section.length("left"), section.length("right"), section.length("operator"), section.length("far"))
    section.done()
    return table


def _max_cut(section: Section | None) -> dict[int, float]:
    heights: dict[int, float] = {}
    if section is None:
        return heights
    for key in section:
        if not re.fullmatch("[1-9][0-9]?", key) or int(key) > 90:
            section.refuse(key, "", 'Name the angle between blade and table in degrees, as in "90" = "2.85".')
        elif (height := section.length(key)) is not None:
            heights[int(key)] = height
    return heights


def read_blade(section: Section) -> Blade | None:
    """The blade of a `[blade]` table; None when it is at fault."""
    id, plate, kerf = section.id("blade"), section.length("plate"), section.length("kerf")
    flange = _hand(section, "flange")
    diameter, bore = section.length("diameter"), section.length("bore")
    speed = section.count("max_speed")
    section.done()
    try:
        return Blade(id, plate, kerf, flange, diameter, bore, speed)
    except ValueError as wrong:
        section.refuse("kerf", "", str(wrong))
        return None
