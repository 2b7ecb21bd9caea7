"""The tilt stops of a saw: what their two checks ask for alike, and how a small tilt is said and turned."""

from __future__ import annotations

import math

from trued.procedure.asks import Kind, Need, SetupFact
from trued.procedure.declaration import RunInput
from trued.procedure.quantities import turns

STOP_FACTS = (
    SetupFact(
        "stop_radius", "the distance from the tilt's axis to the stop screw", kind=Kind.LENGTH, needed_for=Need.MOVE
    ),
    SetupFact("stop_thread", "the thread of the stop screw", kind=Kind.THREAD, needed_for=Need.MOVE),
)


def degrees(rad: float) -> str:
    """A small tilt without its sign: `0.095°`."""
    return f"{math.degrees(abs(rad)):.3f}°"


def stop_travel(taken: RunInput, rad: float) -> float | None:
    """How far the stop moves for a tilt, mm; None while its distance from the axis is not known."""
    radius = taken.number("stop_radius")
    return None if radius is None else abs(rad) * radius


def how_to_tilt(taken: RunInput, rad: float, way: str) -> str:
    """The hand's part of a move: by the stop's screw where its radius is known, else by a gauge on the blade."""
    travel, pitch = stop_travel(taken, rad), taken.number("stop_thread")
    by_gauge = (
        f"Zero an angle gauge on the blade. Loosen the stop. Tilt {way} until the gauge shows {degrees(rad)}. Bring "
        "the stop up to it and lock it."
    )
    screw = f" By the stop's screw: {turns(travel, pitch)}." if travel is not None and pitch else ""
    return f"{by_gauge}{screw} Tilt away and back against the stop, then cut again."
