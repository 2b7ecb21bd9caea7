"""Blunders of the checks of the blade: arbor, blade-to-slot angle, knife, insert. One run each."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from benchmarks.planted.kind import Kind, Planted
from benchmarks.planted.typed import (
    CALIPER_SD,
    CHECKS,
    FEELER_SD,
    NEEDLE_SD,
    SLIP,
    Changed,
    Rng,
    changed_world,
    differ,
    exchanged,
    mm,
    name_of,
    places,
    retyped,
    said,
    shifted,
)
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH, known, procedure, reads
from tests.worlds.blade import Arbor
from tests.worlds.feeler import feelers
from tests.worlds.measuring import caliper, indicator, rule

from trued.measure.decision import Conformity, ToleranceLimits, judge
from trued.procedure import take
from trued.procedure.finding import chances_of


def high_for_low(rng: Rng, one: Simulated) -> Changed:
    """Highest and lowest changed over."""
    what, feature = (("plate", "wobble"), ("flange", "flange"))[rng.integers(2)]
    swing = one.truth[feature]
    return exchanged(one, f"{what}_high", f"{what}_low"), swing > 0.001 * INCH + differ(NEEDLE_SD, 2.0)


def loose_stand(rng: Rng, one: Simulated) -> Changed:
    """The dial's stand, or a worn bearing, gives way within the turn."""
    by = rng.choice([-1.0, 1.0]) * rng.uniform(0.0, 0.006) * INCH
    name = rng.choice(["plate_again", "flange_again"])
    return shifted(one, by, str(name)), abs(by) > 0.001 * INCH + differ(NEEDLE_SD)


def on_teeth(rng: Rng, one: Simulated) -> Changed:
    """In the second turn the tip jumps over the set of the teeth."""
    by = rng.uniform(0.0, 0.04) * INCH
    return shifted(one, by, "plate_high", last=1), by > 0.010 * INCH + differ(NEEDLE_SD)


def another_tooth(rng: Rng) -> Planted:
    """At the far end the second spot is another one than at the operator's end, on a blade that wobbles."""
    span, turned = 7.0, rng.uniform(0.5, 3.0)
    arbor = Arbor(rng.uniform(-2e-3, 2e-3), rng.uniform(0.0, 2e-3), rng.uniform(0, 6), slot_x=rng.choice([-5.0, 5.0]))
    needle, long, typed, off = indicator(rng), rule(rng), ["fence=beyond-blade", "dial=shrinks"], {}
    for spot, angle in (("first", 0.3), ("second", 1.9)):
        for name, far in (("operator_end", False), ("far_end", True)):
            there = angle + turned if spot == "second" and far else angle
            off[spot, far] = (arbor.to_slot(arbor.brought(span / 2.0, there, 0.0, far=far)) - 5.0) * INCH
            typed += [f"{name}@{spot}={needle.read(off[spot, far])}" for _ in range(2)]
    typed += reads(long, "span", span)
    one = Simulated("blade-parallel", typed, {}, {}, procedure(rng, 1e-4), [known(rng, "indicator", needle)])
    apart = (off["first", True] - off["first", False]) - (off["second", True] - off["second", False])
    return Planted(said(one), abs(apart) > 0.003 * INCH + differ(NEEDLE_SD))


def bar_loose(rng: Rng, one: Simulated) -> Changed:
    """At one reading the bar was not pressed to the wall of the slot."""
    by, place = rng.uniform(0.0, 0.012) * INCH, rng.choice(["operator_end@first", "far_end@second"])
    return shifted(one, by, str(place), last=1), by > 0.002 * INCH + differ(NEEDLE_SD)


def dial_for_distance(_rng: Rng, one: Simulated) -> Changed:
    """A dial was read, and it is said that distances were."""
    names = ("operator_end", "far_end", "middle", "blade_operator", "blade_far")
    below = any(mm(one.typed[i]) < 0.0 for i in places(one.typed, *names))
    return retyped(one, dial="distance"), below


def tilt_axis(rng: Rng, one: Simulated) -> Changed:
    """With the blade tilted it is read again: the axis of the tilt does not lie along the slot."""
    by = rng.choice([-1.0, 1.0]) * rng.uniform(0.0, 0.02) * INCH
    needle = rng.normal(0.0, NEEDLE_SD, 2)
    near, far = (np.mean([mm(one.typed[i]) for i in places(one.typed, name)]) for name in ("operator_end", "far_end"))
    tilted = retyped(one, operator_tilted=f"{near + needle[0]:.2f}mm", far_tilted=f"{far + by + needle[1]:.2f}mm")
    return tilted, abs(by) > 0.004 * INCH + 2.0 * math.sqrt(3.0) * NEEDLE_SD


def distance_in_inches(rng: Rng) -> Planted:
    """Distances from the slot, one of them typed in the other unit."""
    needle = indicator(rng)
    typed = ["fence=beyond-blade", "dial=distance", "span=178mm"]
    names = [f"{name}@{spot}" for spot in ("first", "second") for name in ("operator_end", "far_end")]
    typed += [f"{name}={needle.read(127.0 + rng.normal(0.0, 0.1))}" for name in names]
    at = int(rng.integers(3, 7))
    typed[at] = f"{name_of(typed[at])}={mm(typed[at]) / INCH:.4f}mm"
    return Planted(said(Simulated("blade-parallel", typed, {})), True)


def thin_kerf(rng: Rng, one: Simulated) -> Changed:
    """The kerf of another, thinner blade: less than this plate."""
    plate = float(np.mean([mm(one.typed[i]) for i in places(one.typed, "plate")]))
    by = rng.uniform(0.0, 0.03) * INCH
    return retyped(one, kerf=f"{plate - by:.4f}mm"), by > differ(CALIPER_SD)


def off_the_teeth(_rng: Rng, one: Simulated) -> Changed:
    """The straightedge lay on the plate instead of the teeth, on both sides."""
    plate = float(np.mean([mm(one.typed[i]) for i in places(one.typed, "plate")]))
    kerf = mm(one.typed[places(one.typed, "kerf")[0]])
    spoilt = shifted(one, -(kerf - plate) / 2.0, "gap_side")
    noise = 2.0 * math.sqrt(3.0 * CALIPER_SD**2 + FEELER_SD**2)  # kerf of three lengths, knife, two gaps
    return spoilt, kerf - plate > 0.010 * INCH + noise


def knife_too_thick(rng: Rng) -> Planted:
    """The knife of a full kerf behind a thin blade: it must not be found ready."""
    kerf = rng.uniform(0.080, 0.100)
    thick, jaws, pack = kerf + rng.uniform(0.0, 0.03), caliper(rng), feelers(rng)
    typed = [*reads(jaws, "knife", thick, 2), *reads(jaws, "plate", kerf - 0.03, 2), *reads(jaws, "kerf", kerf)]
    typed += [f"gap_side@{side}={pack.read((kerf - thick) / 2.0 * INCH)}" for side in ("keeper", "offcut")]
    typed += ["to_teeth@nearest=5mm", "to_teeth@farthest=6mm"]
    own = [known(rng, "caliper", jaws), known(rng, "feelers", pack)]
    founds = CHECKS["knife"].evaluate(take(CHECKS["knife"], typed, instruments=own, unit="mm"))
    found = next(found for found in founds if found.feature == "knife-under-kerf")
    ready = judge(chances_of(found, found.limits or ToleranceLimits(0.0, None))) is Conformity.PROVEN_IN
    return Planted(frozenset({"ready" if ready else "not-ready"}), True)


def knife_missing(_rng: Rng, one: Simulated) -> Changed:
    """No knife is fitted."""
    left = [text for text in one.typed if not text.startswith(("knife", "gap_side", "to_teeth", "below_top"))]
    return replace(one, typed=[*left, "knife=0"]), True


def signs_turned(_rng: Rng, one: Simulated) -> Changed:
    """Every corner that is low typed as proud, and the reverse."""
    at, low = places(one.typed, "low"), one.truth
    typed = [f"{name_of(t)}={-mm(t):.4f}mm" if i in at else t for i, t in enumerate(one.typed)]
    near, far = ([low[f"insert-{end}-{side}"] for side in ("keeper", "offcut")] for end in ("operator", "far"))
    room, step, felt = 2.0 * FEELER_SD, 0.004 * INCH, next(t for t in one.typed if t.startswith("strip="))[6:]
    told_so = {
        "operator": max(near) < -room,  # both corners proud, both typed as low
        "far": min(far) > room,
        "none": max(near) > step + room or min(far) < -step - room,
    }
    return replace(one, typed=typed), told_so[felt]


def bent_insert(rng: Rng, one: Simulated) -> Changed:
    """It stands up or sags beside the blade."""
    by = rng.uniform(-0.012, 0.012) * INCH
    corners = np.mean([one.truth[name] for name in one.truth if name != "insert-rock"])
    typed = [*one.typed, f"beside_blade={corners + by + rng.normal(0.0, FEELER_SD):.4f}mm"]
    return replace(one, typed=typed), abs(by) > 0.003 * INCH + 2.0 * FEELER_SD * math.sqrt(1.0 + 1 / 8)


def corner_in_inches(rng: Rng, one: Simulated) -> Changed:
    """One corner's millimetres typed as inches."""
    at = int(rng.choice(places(one.typed, "low")))
    by = mm(one.typed[at]) * INCH
    typed = [f"{name_of(t)}={by:.4f}mm" if i == at else t for i, t in enumerate(one.typed)]
    twice = places(one.typed, name_of(one.typed[at]))
    return replace(one, typed=typed), abs(by) > 1.0 and len(twice) > 1 and mm(one.typed[at]) != 0.0


def kinds() -> list[Kind]:
    """Every kind, by check."""
    needle = "it is more, by twice its scatter, than "
    changes = [
        ("high and low changed over", "arbor", "high-below-low", f"{needle}0.001 in", high_for_low),
        ("stand or bearing gives way", "arbor", "not-returning", f"{needle}0.001 in", loose_stand),
        ("tip on the teeth", "arbor", "on-teeth", f"{needle}0.010 in", on_teeth),
        ("bar not pressed", "blade-parallel", "bar-not-pressed", f"{needle}0.002 in", bar_loose),
        (
            "dial said to be a distance",
            "blade-parallel",
            "negative-distance",
            "a reading is below 0",
            dial_for_distance,
        ),
        ("tilt axis askew", "blade-parallel", "tilt-changes", f"{needle}0.004 in over 7 in", tilt_axis),
        ("kerf of another blade", "knife", "plate-over-kerf", "it is less than the plate, and reading", thin_kerf),
        ("straightedge off the teeth", "knife", "sides-disagree", f"{needle}0.010 in", off_the_teeth),
        ("no knife fitted", "knife", "knife-absent", "always", knife_missing),
        ("low typed as proud", "insert", "strip-contradicts", "the strip contradicts both corners", signs_turned),
        ("bent insert", "insert", "insert-bulged", f"{needle}0.003 in", bent_insert),
        ("inch typed as millimetre", "insert", SLIP, "it comes to 1 mm or more", corner_in_inches),
    ]
    plants = [
        ("two different teeth", "blade-parallel", "different-teeth", f"{needle}0.003 in", another_tooth),
        ("inch typed as millimetre", "blade-parallel", SLIP, "always", distance_in_inches),
        ("knife thicker than the kerf", "knife", "not-ready", "always", knife_too_thick),
    ]
    made = [Kind(a, where, frozenset(code.split()), s, changed_world(where, c)) for a, where, code, s, c in changes]
    return made + [Kind(a, where, frozenset(code.split()), s, p) for a, where, code, s, p in plants]
