"""The angle and the side to which the fence was swung: asked by every check whose result holds for that one angle.

A square cut is said by 0, never by silence: what was found of one angle says nothing of another.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from trued.equipment.fence_swing import SWINGS, UNTOLD, Detents, Turned, plain_degrees
from trued.errors import Faults, InputRefused
from trued.procedure.asks import Kind, Need, SetupFact
from trued.procedure.declaration import Check
from trued.units import read_degrees

ANGLE_FACT = SetupFact(
    "angle",
    "the fence angle in this run, in degrees from a square cut; 0 when it is square",
    kind=Kind.DEGREES,
    needed_for=Need.WORDS,
    of_run=True,
)
SWING_FACT = SetupFact(
    "swing",
    "the side of the fence at that angle: open (its far end away from the work) or closed (into it)",
    choices=SWINGS,
    needed_for=Need.WORDS,
    of_run=True,
)
SWUNG = "swung"  # the reading by which a check of a detent asks for the side itself
TURN_FACTS = (ANGLE_FACT, SWING_FACT)
"""`take` does without them, for older runs have none; whoever keeps or works out a new run asks (`turn_told`)."""


def asks_turn(check: Check) -> bool:
    """Whether the result of a check holds for one fence angle alone."""
    return ANGLE_FACT in check.facts


def turn_told(check: Check, facts: Mapping[str, str], detents: Detents | None = None) -> dict[str, str]:
    """The facts of a new run with angle and side as its features are named; InputRefused while one is missing.

    detents: those of the fixture; an angle near one of them is that one, and where only one side is possible, it is.
    """
    if not asks_turn(check):
        return dict(facts)
    faults = Faults()
    if not facts.get("angle", "").strip():
        faults.add("--angle", "", f"{check.id} needs {ANGLE_FACT.text}: give --angle.")
        faults.raise_if_any()
    degrees = round(math.degrees(read_degrees(facts["angle"], where="--angle")), 6)
    swing = facts.get("swing", "").strip().lower()
    turned = (detents or Detents()).nearest(Turned(degrees, swing if degrees else ""))
    if not turned.square and turned.swing not in SWINGS:
        faults.add("--swing", swing, f"{check.id} needs {SWING_FACT.text}: give --swing open or --swing closed.")
    elif not turned.square and check.id.startswith("detent-") and detents and not detents.has(turned):
        named = ", ".join(f"{plain_degrees(angle)}° {swing}" for swing in SWINGS for angle in detents.of(swing))
        text = (
            f"The shop's file names no detent at {turned.text}, but {named}. Give one of these, or add it to the file."
        )
        faults.add("--angle", turned.text, text)
    faults.raise_if_any()
    told = {name: text for name, text in facts.items() if name not in ("angle", "swing")}
    told["angle"] = turned.suffix.removesuffix(turned.swing) if turned.swing else turned.suffix
    return told | ({"swing": turned.swing} if turned.swing else {})


def turn_of(check: Check, facts: Mapping[str, str]) -> str:
    """How the names of a run's features end: `0`, `45closed`; `?` for an older run at a detent, whose angle was not
    asked for. The square cut where the check does not ask: it is made at no other."""
    if not asks_turn(check):
        return "0"
    if "angle" not in facts:
        return UNTOLD if check.id.startswith("detent-") else "0"
    degrees = round(math.degrees(read_degrees(facts["angle"])), 6)
    return Turned(degrees, facts.get("swing", "")).suffix


def side_read(check: Check, typed: Sequence[str], facts: Mapping[str, str]) -> tuple[tuple[str, ...], dict[str, str]]:
    """The readings and facts of a run whose check reads the side itself (`swung`): said once, it stands in both."""
    if not any(ask.name == SWUNG for ask in check.asks):
        return tuple(typed), dict(facts)
    read = next((text.partition("=")[2].strip() for text in typed if text.partition("=")[0].strip() == SWUNG), "")
    told = facts.get("swing", "").strip()
    if read and told and read.lower() != told.lower():
        raise InputRefused.of("--swing", told, f"{SWUNG}={read} and --swing {told} say two sides; give one of them.")
    more = (f"{SWUNG}={told}",) if told and not read else ()
    return (*typed, *more), dict(facts) | ({"swing": read or told} if read or told else {})
