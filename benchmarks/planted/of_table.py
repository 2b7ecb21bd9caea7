"""Blunders of the checks of the rip fence, table and wing. One run each."""

from __future__ import annotations

import math
from dataclasses import replace

from benchmarks.planted.kind import Kind, Planted
from benchmarks.planted.typed import (
    FEELER_SD,
    NEEDLE_SD,
    SLIP,
    Changed,
    Rng,
    changed_world,
    differ,
    mm,
    name_of,
    places,
    retyped,
    said,
    shifted,
)
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH, known
from tests.worlds.fence import Fence
from tests.worlds.measuring import indicator


def dial_for_distance(_rng: Rng, one: Simulated) -> Changed:
    """A dial was read, and it is said that distances were."""
    names = ("operator_end", "far_end", "middle", "blade_operator", "blade_far")
    below = any(mm(one.typed[i]) < 0.0 for i in places(one.typed, *names))
    return retyped(one, dial="distance"), below


def zero_of_the_dial(rng: Rng, one: Simulated) -> Changed:
    """Between the two ends the dial was set anew, or the fence not locked."""
    by = rng.choice([-1.0, 1.0]) * rng.uniform(0.05, 0.4) * INCH
    spoilt = shifted(one, by, "far_end")
    sign = 1.0 if "dial=shrinks" in one.typed or "dial=distance" in one.typed else -1.0
    slot = 1.0 if "slot=beyond-blade" in one.typed else -1.0
    toes = [sign * slot * by + one.truth["rip-toe"], -sign * slot * by + one.truth["rip-toe"]]
    return spoilt, min(map(abs, toes)) > 0.125 * INCH + differ(NEEDLE_SD)


def bent_fence(rng: Rng) -> Planted:
    """A face that is hollow or crowned by up to 0.015 in."""
    fence, needle = Fence(hollow=rng.uniform(-0.015, 0.015)), indicator(rng)
    typed = ["slot=beyond-blade", "dial=shrinks", f"length={fence.long}in"]
    for _ in range(3):
        for name, share in (("operator_end", 0.0), ("middle", 0.5), ("far_end", 1.0)):
            off = fence.from_slot(fence.face(share)) - fence.from_slot(fence.face(0.5))
            typed.append(f"{name}={needle.read(off * INCH)}")
    one = Simulated("rip-fence", typed, {}, instruments=[known(rng, "indicator", needle)])
    shows = abs(fence.hollow) * INCH > 0.003 * INCH + 2.0 * math.sqrt(1.5 / 3.0) * NEEDLE_SD
    return Planted(said(one), shows)


def fence_gives(rng: Rng, one: Simulated) -> Changed:
    """Pushed by hand the far end gives way."""
    by, last = rng.uniform(0.0, 0.02) * INCH, mm(one.typed[places(one.typed, "far_end")[-1]])
    pushed = retyped(one, far_pushed=f"{last + by + rng.normal(0.0, NEEDLE_SD):.2f}mm")
    return pushed, by > 0.005 * INCH + differ(NEEDLE_SD)


def ripped_in_inches(rng: Rng, one: Simulated) -> Changed:
    """One ripped width typed in the other unit."""
    at = int(rng.choice(places(one.typed, "width")))
    return replace(
        one, typed=[f"{name_of(t)}={mm(t) / INCH:.4f}mm" if i == at else t for i, t in enumerate(one.typed)]
    ), True


def hollow_for_crown(rng: Rng, one: Simulated) -> Changed:
    """One line typed as crowned that is hollow, or the reverse."""
    at = int(rng.choice([i for i, t in enumerate(one.typed) if t.startswith(("hollow@", "crown@"))]))
    name, _, line = name_of(one.typed[at]).partition("@")
    other = {"hollow": "crown", "crown": "hollow"}[name]
    typed = [t.replace(f"{name}@", f"{other}@") if i == at else t for i, t in enumerate(one.typed)]
    off = {"blade": 0.0, "middle-across": 2.0, "middle-along": 2.0}.get(line, 1.0) * mm(one.typed[at])
    return replace(one, typed=typed), off > 0.004 * INCH + 2.0 * FEELER_SD * math.sqrt(2.0)


def bending_rule(_rng: Rng, one: Simulated) -> Changed:
    """A rule on its flat bends into the long lines: both diagonals read nought."""
    at = places(one.typed, "hollow", "crown")
    diagonal = [i for i in at if "diagonal" in one.typed[i]]
    signed = [mm(one.typed[i]) * (1.0 if one.typed[i].startswith("hollow") else -1.0) for i in diagonal]
    typed = [f"{name_of(t)}=0" if i in diagonal else t for i, t in enumerate(one.typed)]
    return replace(one, typed=typed), abs(sum(signed)) / 2.0 > 0.004 * INCH + 2.0 * FEELER_SD * math.sqrt(2.0)


def follows_all(_rng: Rng, one: Simulated) -> Changed:
    """It follows every line."""
    at = places(one.typed, "hollow", "crown")
    return replace(one, typed=[f"{name_of(t)}=0" if i in at else t for i, t in enumerate(one.typed)]), True


def lower_for_higher(_rng: Rng, one: Simulated) -> Changed:
    """The joint typed lower where it is higher, and the card that was slid over it."""
    low = [i for i in places(one.typed, "joint_low", "joint_high") if mm(one.typed[i]) > 0.0]
    lower = {one.typed[i].startswith("joint_low") for i in low}
    swap = {"joint_low": "joint_high", "joint_high": "joint_low"}
    typed = [t.replace(n, swap[n], 1) if (n := t.partition("@")[0]) in swap else t for t in one.typed]
    card = "on-table" if True in lower else "on-wing"
    return replace(one, typed=[*typed, f"card={card}"]), len(lower) == 1


def loads_exchanged(_rng: Rng, one: Simulated) -> Changed:
    """Loaded and not loaded changed over, at the middle."""
    swap = {"outer": "loaded", "loaded": "outer"}
    typed = [
        f"{swap[t.partition('_')[0]]}_{t.partition('_')[2]}"
        if t.startswith(("outer_", "loaded_")) and "@middle" in t
        else t
        for t in one.typed
    ]
    return replace(one, typed=typed), one.truth["wing-deflection"] > 0.010 * INCH + differ(FEELER_SD)


def hangs(rng: Rng, one: Simulated) -> Changed:
    """Its bracket is not seated: the outer edge hangs by up to 5/8 in."""
    by = rng.uniform(0.25, 0.625) * INCH
    typed = [t for t in one.typed if not t.startswith(("outer_", "loaded_"))]
    typed += [f"outer_low@{place}={by:.2f}mm" for place in ("operator", "middle", "far")]
    return replace(one, typed=typed), by > 0.375 * INCH + 2.0 * FEELER_SD


def kinds() -> list[Kind]:
    """Every kind, by check."""
    needle = "it is more, by twice its scatter, than "
    changes = [
        ("dial said to be a distance", "rip-fence", "negative-distance", "a reading is below 0", dial_for_distance),
        ("dial set anew, or not locked", "rip-fence", "toe-implausible", f"{needle}1/8 in", zero_of_the_dial),
        ("fence gives way", "rip-fence", "fence-deflects", f"{needle}0.005 in", fence_gives),
        ("inch typed as millimetre", "rip-fence", SLIP, "always", ripped_in_inches),
        ("hollow typed as crowned", "table", "does-not-close", f"{needle}0.004 in", hollow_for_crown),
        ("rule that bends into the diagonals", "table", "does-not-close", f"{needle}0.004 in", bending_rule),
        ("rule that follows every line", "table", "straightedge-bends", "always", follows_all),
        ("lower typed as higher", "wing", "card-says-otherwise", "all of the joint is on one side", lower_for_higher),
        ("loaded and not loaded exchanged", "wing", "rises", f"{needle}0.010 in", loads_exchanged),
        ("wing not seated", "wing", "too-much", f"{needle}3/8 in", hangs),
    ]
    plants = [
        ("bent face", "rip-fence", "bent-face", f"{needle}0.003 in", bent_fence),
    ]
    made = [Kind(a, where, frozenset(code.split()), s, changed_world(where, c)) for a, where, code, s, c in changes]
    return made + [Kind(a, where, frozenset(code.split()), s, p) for a, where, code, s, p in plants]
