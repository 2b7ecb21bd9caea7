"""What a fence at an angle changes: each detent has a zero of its own, and metal may come into the blade's way."""

from __future__ import annotations

import math

from trued.equipment.pivoting_fence import Metal, crossing_mm
from trued.procedure.asks import Kind, Need, SetupFact
from trued.procedure.declaration import Flag, RunInput, Severity
from trued.procedure.quantities import plain, size

METAL_FACTS = (
    SetupFact(
        "pivot_beside", "from the pivot across to the plane of the blade", kind=Kind.LENGTH, needed_for=Need.WORDS
    ),
    SetupFact(
        "metal_end", "how far metal reaches from the pivot toward the blade", kind=Kind.LENGTH, needed_for=Need.WORDS
    ),
    SetupFact("metal_front", "how far it reaches in front of the pivot", kind=Kind.LENGTH, needed_for=Need.WORDS),
    SetupFact("metal_back", "how far it reaches behind the pivot", kind=Kind.LENGTH, needed_for=Need.WORDS),
)
FACE_FACT = SetupFact(
    "face", "how far the fence's face is in front of the pivot", kind=Kind.LENGTH, needed_for=Need.WORDS
)
TOLD = (22.5, 30.0, 45.0)  # degrees
FACING = 25.4 / 8


def metal_of(taken: RunInput) -> Metal | None:
    """The fence's metal; None while one of its sizes is not known."""
    sizes = [taken.number(name) for name in ("pivot_beside", "metal_end", "metal_front", "metal_back")]
    known = [mm for mm in sizes if mm is not None]
    return Metal(*known) if len(known) == len(sizes) else None


def metal_in_path(taken: RunInput, angle: float) -> Flag | None:
    """Metal too near to the blade at this angle: refused, and there is no way past it."""
    metal = metal_of(taken)
    if metal is None or not metal.too_near(angle):
        return None
    past = metal.past_mm(angle)
    where = f"{size(past, taken.unit, 3)} {'past' if past > 0.0 else 'short of'} the middle of the blade"
    text = (
        f"With the fence at {math.degrees(abs(angle)):.1f}° its metal stands {where}: the blade may hit it. Do not cut "
        "here. Move the metal back along the fence, or use wood there, then turn the blade by hand past it."
    )
    return Flag("metal-in-path", Severity.REFUSE, text)


def metal_at_an_angle(taken: RunInput) -> Flag | None:
    """From which angle on the fence's metal comes too near to the blade, on either side of its zero."""
    metal = metal_of(taken)
    if metal is None or metal.too_near(0.0):
        return None
    froms = {away: metal.from_angle(away=away) for away in (True, False)}
    ways = [
        f"{'away from' if away else 'into'} the work from {math.degrees(angle):.1f}° on"
        for away, angle in froms.items()
        if angle is not None
    ]
    text = (
        "Metal of the fence comes too near to the blade with its end there swung "
        f"{', and '.join(ways)}. Never cut there."
    )
    return Flag("metal-at-an-angle", Severity.NOTE, text) if ways else None


def zero_at_angles(taken: RunInput) -> Flag | None:
    """Where the blade crosses the face at other detents: the scale's zero goes with it."""
    beside, face = taken.number("pivot_beside"), taken.number("face")
    if beside is None or face is None:
        return None
    at = "; ".join(
        f"{degrees:g}°: {plain(crossing_mm(beside, face, math.radians(degrees)), taken)} swung away, "
        f"{plain(crossing_mm(beside, face, -math.radians(degrees)), taken)} swung in"
        for degrees in TOLD
    )
    moved = ", ".join(f"{size(FACING * math.tan(math.radians(d)), taken.unit, 3)} at {d:g}°" for d in TOLD)
    text = (
        f"Each detent has its own zero. Along its face, from the pivot, the blade crosses the fence at "
        f"{plain(beside, taken)} when square; by which way its end at the blade is swung from the work, {at}. A facing "
        f"{size(FACING, taken.unit, 3)} thicker shifts that by {moved}, and not at all when square."
    )
    return Flag("zero-at-angles", Severity.NOTE, text)
