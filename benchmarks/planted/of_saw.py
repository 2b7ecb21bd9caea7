"""Blunders of the checks of the saw: arbor, blade, tilt stops, knife, insert, rip fence, table, wing. One run each."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from benchmarks.planted.kind import Kind, Planted
from benchmarks.planted.typed import (
    CALIPER_SD,
    FEELER_SD,
    NEEDLE_SD,
    changed_world,
    differ,
    exchanged,
    mm,
    name_of,
    places,
    retyped,
    said,
    shifted,
    told,
)
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH, known, procedure, reads
from tests.worlds.blade import Arbor
from tests.worlds.feeler import feel, feelers
from tests.worlds.fence import Fence
from tests.worlds.measuring import caliper, indicator, rule
from tests.worlds.tilt import Leaning, block, end_for_end

from trued.checks import find_check
from trued.form import examine, take

SLIP = "unit-slip unexpected-size input-refused"
Changed = tuple[Simulated, bool]
Rng = np.random.Generator


# --- arbor


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


# --- blade to slot


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


# --- tilt stops


def square_block(rng: Rng, lean: float, taper: float) -> tuple[list[str], float, float]:
    """Two cuts of a block, the second turned end for end: what is typed, and both gaps with their sign, mm."""
    blade, piece = Leaning(lean, str(rng.choice(["left", "right"]))), block(rng.uniform(2.0, 2.6), taper)
    pack, typed, gaps = feelers(rng), [], []
    for (gap, at), body in ((("gap", "at"), piece), (("gap_turned", "at_turned"), end_for_end(piece))):
        wide, where = blade.gap(body)
        shown = feel(pack, wide * INCH)
        typed += [f"{gap}={shown}", f"{at}={where if shown != '0' else 'none'}"]
        gaps.append(wide * INCH * (1.0 if where == "top" else -1.0))
    light = "light" if abs(lean) > 0.0012 else "no-light"
    typed += ["cycled=yes", f"square={light}", f"height={(piece[2][1] + piece[3][1]) / 2.0 * INCH:.2f}mm"]
    return typed, gaps[0], gaps[1]


def block_tapered(rng: Rng) -> Planted:
    """A block whose faces run together by up to 0.006."""
    typed, first, second = square_block(rng, rng.uniform(-2e-3, 2e-3), rng.uniform(-6e-3, 6e-3))
    shows = abs(first - second) > 0.004 * INCH + differ(FEELER_SD)
    return Planted(said(Simulated("tilt-90", typed, {})), shows)


def one_cut_of_a_taper(rng: Rng) -> Planted:
    """The same, cut once only, with a blade that a square finds upright."""
    lean = rng.uniform(-1.2e-3, 1.2e-3)
    typed, first, _ = square_block(rng, lean, rng.uniform(-8e-3, 8e-3))
    typed = [text for text in typed if "turned" not in text]
    height = mm(next(text for text in typed if text.startswith("height")))
    shows = abs(first) > 2.0 * height * math.radians(0.1) + 2.0 * FEELER_SD
    return Planted(said(Simulated("tilt-90", typed, {})), shows)


def not_rolled(_rng: Rng, one: Simulated) -> Changed:
    """The offcut was turned end for end instead of rolled: its end always fits."""
    typed = [text for text in one.typed if name_of(text) not in ("gap", "at", "gap_turned", "at_turned")]
    return replace(one, typed=["gap=0", "at=none", *typed]), abs(one.truth["tilt-90"]) > 0.0012


def not_cycled(_rng: Rng, one: Simulated) -> Changed:
    """Dust under the stop: the blade was not tilted away and back."""
    return retyped(one, cycled="no"), True


def unequal_strips(rng: Rng, one: Simulated) -> Changed:
    """One of the four strips is wider."""
    by = rng.uniform(0.0, 0.02) * INCH
    return shifted(one, by, f"width@{rng.integers(1, 5)}"), by > 0.004 * INCH + differ(CALIPER_SD, 2.0)


def over_the_fence(rng: Rng, one: Simulated) -> Changed:
    """The strips were ripped with the blade leaning over the fence."""
    side = str(rng.choice(["left", "right"]))
    return told(retyped(one, cut=f"rip-fence-{side}"), tilts_to=side), True


# --- knife and insert


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
    finding = examine(take(find_check("knife"), typed, instruments=own, unit="mm"))
    decided = [e.decision for e in finding.estimates if e.feature == "knife-under-kerf"]
    ready = bool(decided) and str(decided[0]) == "proven in"
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


# --- rip fence, table, wing


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
    needle = "more than what is usual (given) and twice the scatter of the difference that shows it: "
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
        ("dial said to be a distance", "rip-fence", "negative-distance", "a reading is below 0", dial_for_distance),
        ("tilt axis askew", "blade-parallel", "tilt-changes", f"{needle}0.004 in over 7 in", tilt_axis),
        ("not rolled", "tilt-90", "turned-not-rolled", "the lean shows light at a square (0.0012 rad)", not_rolled),
        ("not tilted away and back", "tilt-90", "not-cycled", "always", not_cycled),
        ("unequal strips", "tilt-45", "unequal-strips", f"{needle}0.004 in", unequal_strips),
        ("blade leaning over the fence", "tilt-45", "leans-over-fence", "always", over_the_fence),
        ("kerf of another blade", "knife", "plate-over-kerf", "it is less than the plate, and reading", thin_kerf),
        ("straightedge off the teeth", "knife", "sides-disagree", f"{needle}0.010 in", off_the_teeth),
        ("no knife fitted", "knife", "knife-absent", "always", knife_missing),
        ("low typed as proud", "insert", "strip-contradicts", "the strip contradicts both corners", signs_turned),
        ("bent insert", "insert", "insert-bulged", f"{needle}0.003 in", bent_insert),
        ("inch typed as millimetre", "insert", SLIP, "it comes to 1 mm or more", corner_in_inches),
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
    made = [Kind(a, where, frozenset(code.split()), s, changed_world(where, c)) for a, where, code, s, c in changes]
    plants = [
        ("two different teeth", "blade-parallel", "different-teeth", f"{needle}0.003 in", another_tooth),
        ("inch typed as millimetre", "blade-parallel", SLIP, "always", distance_in_inches),
        ("block not parallel", "tilt-90", "block-tapered", f"{needle}0.004 in", block_tapered),
        ("block not parallel, one cut", "tilt-90", "square-disagrees", f"{needle}0.1 degree", one_cut_of_a_taper),
        ("knife thicker than the kerf", "knife", "not-ready", "always", knife_too_thick),
        ("bent face", "rip-fence", "bent-face", f"{needle}0.003 in", bent_fence),
    ]
    return made + [Kind(a, where, frozenset(code.split()), s, p) for a, where, code, s, p in plants]
