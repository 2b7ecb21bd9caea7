"""Blunders of the checks of the detents and of the bar. One run each."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from benchmarks.planted.kind import Kind
from benchmarks.planted.typed import (
    CALIPER_SD,
    FEELER_SD,
    NEEDLE_SD,
    Changed,
    Rng,
    changed_world,
    differ,
    mm,
    name_of,
    places,
    retyped,
    shifted,
    told,
)
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH


def gap_moved(rng: Rng, one: Simulated) -> Changed:
    """Between two readings of the gap the pieces moved, or fuzz got in."""
    at = places(one.typed, "gap")
    least = {"flip": 0.003, "detent-angle": 0.004}[one.check] * INCH
    by = rng.uniform(0.0, 0.02) * INCH
    text = f"gap={mm(one.typed[at[-1]]) + by:.4f}mm" if one.typed[at[-1]] != "gap=0" else ""
    if not text:
        return one, False
    return replace(one, typed=[text if i == at[-1] else t for i, t in enumerate(one.typed)]), by > least + differ(
        FEELER_SD
    )


def unequal_pieces(rng: Rng, one: Simulated) -> Changed:
    """One piece of the ring is longer, by up to 1/16 in."""
    by, at = rng.uniform(0.0, 0.0625) * INCH, int(rng.choice(places(one.typed, "piece")))
    typed = [f"piece={mm(t) + by:.4f}mm" if i == at else t for i, t in enumerate(one.typed)]
    return replace(one, typed=typed), by > 0.003 * INCH + differ(CALIPER_SD)


def mirrored(_rng: Rng, one: Simulated) -> Changed:
    """One detent for one end, its mirror for the other."""
    return retyped(one, ends="two"), True


def another_ring(rng: Rng, one: Simulated) -> Changed:
    """The angle that is told belongs to a ring of another number of pieces."""
    ring = 180.0 / len(places(one.typed, "piece"))
    told = float(rng.choice([angle for angle in (22.5, 30.0, 45.0) if abs(angle - ring) > 0.5]))
    return replace(one, facts={**one.facts, "angle": f"{told:g}"}), True


def wrong_notch(rng: Rng, one: Simulated) -> Changed:
    """The pin was not seated: each cut is out by 0.3 to 2 degrees."""
    n, wide = len(places(one.typed, "piece")), mm(next(t for t in one.typed if t.startswith("width")))
    error = math.radians(rng.uniform(0.3, 2.0))
    gap = wide / math.cos(math.pi / n) * math.sin(2.0 * n * error)
    typed = [t for t in one.typed if name_of(t) not in ("gap", "where")]
    spoilt = [*typed, f"gap={gap:.2f}mm", f"where={rng.choice(['inside', 'outside'])}"]
    return replace(one, typed=spoilt), error > math.radians(0.5) * 1.05


def both_of(one: Simulated) -> float:
    """Standard deviation of one honest engagement as it is read, mm."""
    reach = mm(next(text for text in one.typed if text.startswith("reach")))
    return one.truth["detent-repeat"] / 3.08 * reach


def chip_in_notch(rng: Rng, one: Simulated) -> Changed:
    """At one engagement a chip lies in the notch."""
    sd, at = both_of(one), int(rng.choice(places(one.typed, "opening", "closing")))
    by = rng.choice([-1.0, 1.0]) * rng.uniform(0.0, 25.0) * sd
    typed = [f"{name_of(t)}={mm(t) + by:.3f}mm" if i == at else t for i, t in enumerate(one.typed)]
    return replace(one, typed=typed), abs(by) > 9.0 * sd


def backlash(rng: Rng, one: Simulated) -> Changed:
    """Opening and closing it comes to rest at two places."""
    sd = math.hypot(both_of(one), NEEDLE_SD)
    by = rng.choice([-1.0, 1.0]) * rng.uniform(0.0, 8.0) * sd
    reach = mm(next(text for text in one.typed if text.startswith("reach")))
    apart = by + one.truth["detent-backlash"] * reach
    return shifted(one, float(by), "opening"), abs(apart) > 5.0 * sd * math.sqrt(2.0 / 6.0)


def touches_nothing(_rng: Rng, one: Simulated) -> Changed:
    """The indicator does not touch: it shows the same whatever is done."""
    at = places(one.typed, "opening", "closing")
    return replace(one, typed=[f"{name_of(t)}=0.12mm" if i in at else t for i, t in enumerate(one.typed)]), True


def beyond_the_slot(rng: Rng, one: Simulated) -> Changed:
    """What hangs out of the slot was measured too, on a bar of 20 in."""
    by = rng.uniform(0.0, 2.0) * INCH
    over = 6.0 + 2.0 * 0.3  # mm: what is usual, and twice what a rule is wrong by
    return told(shifted(one, by, "engaged@middle"), bar="20in"), by > over + differ(0.2)


def binds(_rng: Rng, one: Simulated) -> Changed:
    """Adjusted at a wide spot: it has no play where the slot is narrow."""
    return retyped(one, **{"play@end": "0"}), True


def uneven_slot(rng: Rng, one: Simulated) -> Changed:
    """A slot that is wider at its start, by up to 0.02 in."""
    by, jaws = rng.uniform(0.0, 0.02) * INCH, rng.normal(0.0, CALIPER_SD, 2)
    typed = [f"slot@10mm={19.05 + by + jaws[0]:.2f}mm", f"slot@400mm={19.05 + jaws[1]:.2f}mm"]
    return replace(one, typed=[*one.typed, *typed]), by > 0.004 * INCH + differ(CALIPER_SD)


def engaged_in_inches(rng: Rng, one: Simulated) -> Changed:
    """One engaged length typed in the other unit."""
    at = int(rng.choice(places(one.typed, "engaged")))
    typed: Sequence[str] = [f"{name_of(t)}={mm(t) / INCH:.4f}mm" if i == at else t for i, t in enumerate(one.typed)]
    return replace(one, typed=typed), True


def kinds() -> list[Kind]:
    """Every kind, by check."""
    beyond = "it is more, by twice its scatter, than "
    slip = "unit-slip unexpected-size input-refused"
    changes = [
        ("pieces moved between readings", "detent-angle", "gaps-disagree", f"{beyond}0.004 in", gap_moved),
        ("unequal pieces", "detent-angle", "unequal-pieces", f"{beyond}0.003 in", unequal_pieces),
        ("two detents for two ends", "detent-angle", "two-detents", "always", mirrored),
        ("ring of another detent", "detent-angle", "other-detent", "always", another_ring),
        ("pin not seated", "detent-angle", "another-notch unexpected-size", "more than half a degree", wrong_notch),
        (
            "chip in the notch",
            "detent-repeat",
            "one-apart",
            "it is more than nine times the scatter of one",
            chip_in_notch,
        ),
        ("backlash", "detent-repeat", "two-seats", "it is five times what the means of six scatter", backlash),
        ("indicator does not touch", "detent-repeat", "nothing-moves", "always", touches_nothing),
        ("more engaged than the bar", "bar-play", "beyond-bar", f"{beyond}6 mm", beyond_the_slot),
        ("fitted at a wide spot", "bar-play", "binds", "always", binds),
        ("uneven slot", "bar-play", "uneven-slot", f"{beyond}0.004 in", uneven_slot),
        ("inch typed as millimetre", "bar-play", slip, "always", engaged_in_inches),
    ]
    return [Kind(a, where, frozenset(code.split()), s, changed_world(where, c)) for a, where, code, s, c in changes]
