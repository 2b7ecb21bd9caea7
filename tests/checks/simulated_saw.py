"""Simulated runs of the checks of the saw itself: blade, tilt stops, knife, insert, rip fence. See simulated.py."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from tests.checks import simulated
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH, procedure, reads
from tests.worlds.blade import Arbor
from tests.worlds.fence import Fence
from tests.worlds.insert import CORNERS, Insert
from tests.worlds.knife import Knife
from tests.worlds.measuring import Shown, caliper, indicator, own_scatter, rule
from tests.worlds.tilt import Leaning, Ring, block, end_for_end

from trued.measure.instrument import Instrument


def known(rng: np.random.Generator, kind: str, shown: Shown) -> Instrument:
    """The shop's own instrument, its repeat as seen in ten readings, which are rounded as all its readings are."""
    return simulated.known(rng, kind, replace(shown, sd=math.hypot(shown.sd, shown.step / math.sqrt(12.0))))


SPOT = {"first": 0.3, "second": 0.3 + np.pi / 2}  # where on the blade the two spots are


def blade_parallel(rng: np.random.Generator) -> Simulated:
    """Slot on either side, rip fence on either side, a wobbling blade, a dial that runs either way."""
    span, tolerance = 7.0, 0.004 / 7.0
    arbor = Arbor(rng.uniform(-5, 5) * tolerance, 4e-4, rng.uniform(0, 6), slot_x=rng.choice([-5.0, 5.0]))
    sigma, needle, long = rng.uniform(4e-5, 1.5e-4), indicator(rng), rule(rng)
    pressed = rng.normal(0.0, sigma) * span * INCH
    grows, zero = bool(rng.integers(2)), rng.uniform(-1.0, 1.0)
    typed = [f"fence={rng.choice(['beyond-blade', 'slot-side'])}", f"dial={'grows' if grows else 'shrinks'}"]
    for spot, angle in SPOT.items():
        for name, far in (("operator_end", False), ("far_end", True)):
            off = arbor.to_slot(arbor.brought(span / 2.0, angle, 0.0, far=far)) - 5.0
            mm = off * INCH + (pressed if far else 0.0) + zero
            typed += [f"{name}@{spot}={needle.read(-mm if grows else mm)}" for _ in range(2)]
    typed += reads(long, "span", span)
    own = [known(rng, "indicator", needle)]
    truth = {"blade-parallel": arbor.leans_away()}
    return Simulated("blade-parallel", typed, truth, scatter=procedure(rng, sigma), instruments=own)


def rip_fence(rng: np.random.Generator) -> Simulated:
    """A fence that locks anew each time, a blade that leans, and three ripped strips; slot on either side."""
    inner = bool(rng.integers(2))
    fence = Fence(
        rng.uniform(-0.015, 0.015) / 20,
        rng.uniform(-0.02, 0.02) / 7,
        rng.uniform(-0.002, 0.002),
        slot_x=3.5 if inner else -5.0,
        scale_origin=rng.uniform(-0.08, 0.08),
        scale_stretch=1.0 + rng.uniform(-0.005, 0.005),
    )
    needle, long, jaws = indicator(rng), rule(rng), caliper(rng)
    grows, zero, wanders = bool(rng.integers(2)), rng.uniform(-1.0, 1.0), own_scatter(rng, 0.0254, 3)
    shifts = rng.uniform(0.01, 0.1)

    def shown(inches: float) -> str:
        return needle.read((-1.0 if grows else 1.0) * (inches * INCH + zero))

    typed = [f"slot={'fence-side' if inner else 'beyond-blade'}", f"dial={'grows' if grows else 'shrinks'}"]
    place = fence.from_slot(fence.face(0.5))
    for _ in range(3):
        skew, shift = rng.normal(0.0, wanders) / INCH, rng.normal(0.0, shifts) / INCH
        locked = replace(fence, open_rad=fence.open_rad + skew / fence.long, at=fence.at + shift)
        for name, share in (("operator_end", 0.0), ("middle", 0.5), ("far_end", 1.0)):
            typed.append(f"{name}={shown(locked.from_slot(locked.face(share)) - place)}")
    pressed = rng.normal(0.0, own_scatter(rng, 8e-5, 4)) * fence.blade
    for name, share in (("blade_operator", 0.0), ("blade_far", 1.0)):
        off = fence.from_slot(fence.plate(share)) - fence.from_slot((0.0, 0.0))
        typed += [f"{name}={shown(off + share * pressed)}" for _ in range(2)]
    typed += reads(long, "length", fence.long) + reads(long, "blade_span", fence.blade)
    sets = own_scatter(rng, 0.127, 4)
    for setting in (2, 6, 12):
        typed.append(f"width@{setting}in={jaws.read(fence.ripped(setting) * INCH + rng.normal(0.0, sets))}")
    next_time = replace(fence, open_rad=fence.open_rad + rng.normal(0.0, wanders) / INCH / fence.long)
    truth = {
        "rip-toe": (fence.face(1.0)[0] - fence.face(0.0)[0]) * INCH,
        "rip-fence-angle": -next_time.closes() / fence.blade,
        "rip-straight": fence.hollow * INCH,
        "rip-offset": fence.scale_origin * INCH,
        "rip-slope": fence.scale_stretch - 1.0,
        "rip-setting": math.hypot(sets, 0.025),
    }
    return Simulated("rip-fence", typed, truth)


def feelers(rng: np.random.Generator) -> Shown:
    return Shown.drawn(rng, 0.0127, 0.005, 0.013)


def knife(rng: np.random.Generator) -> Simulated:
    """Any pair of knife and blade, the knife anywhere; the kerf is what the same caliper made of three lengths."""
    plate = rng.uniform(0.060, 0.095)
    thick = plate + rng.uniform(-0.01, 0.05)
    one = Knife(thick, plate, plate + rng.uniform(0.012, 0.045), rng.uniform(-0.015, 0.015))
    jaws, thin = caliper(rng), feelers(rng)
    lengths = [[float(jaws.read(x * INCH).removesuffix("mm")) for _ in range(3)] for x in (5.0, 2.3, 2.7 - one.kerf)]
    whole, keeper, offcut = (sum(read) / 3.0 for read in lengths)
    typed = reads(jaws, "knife", one.thick, 2) + reads(jaws, "plate", one.plate, 2)
    typed += [f"kerf={whole - keeper - offcut:.4f}mm"]
    typed += [f"gap_side@{side}={thin.read(one.gap(side) * INCH)}" for side in ("keeper", "offcut") for _ in range(2)]
    near, far = sorted(rng.uniform(0.08, 0.4, 2))
    typed += reads(jaws, "to_teeth@nearest", near) + reads(jaws, "to_teeth@farthest", far)
    typed += [f"below_top={jaws.read(rng.uniform(0.2, 1.8))}"]
    worse = max((near, far), key=lambda x: abs(x * INCH - 5.5)) * INCH
    truth = {"knife": one.room() * INCH, "knife-over-plate": (thick - plate) * INCH, "knife-gap": worse}
    truth["knife-under-kerf"] = (one.kerf - thick) * INCH
    own = [known(rng, "caliper", jaws), known(rng, "feelers", thin)]
    return Simulated("knife", typed, truth, instruments=own)


def insert(rng: np.random.Generator) -> Simulated:
    """Each corner on its own screw; a strip that catches where there is a step up."""
    one, thin = Insert(), feelers(rng)
    for corner in CORNERS:
        middle, reach = (-0.0025, 0.0125) if corner.startswith("operator") else (0.001, 0.005)
        one.turn(corner, middle + rng.uniform(-reach, reach))
    edge = rng.uniform(-0.0002, 0.0002)
    typed = [f"low@{c}={thin.read((one.low(c) + edge) * INCH)}" for c in CORNERS for _ in range(2)]
    typed += [f"rock={thin.read(one.rock() * INCH).replace('-', '')}" for _ in range(2)] + [f"strip={one.strip()}"]
    truth = {f"insert-{corner}": one.low(corner) * INCH for corner in CORNERS} | {"insert-rock": one.rock() * INCH}
    return Simulated("insert", typed, truth, instruments=[known(rng, "feelers", thin)])


def arbor(rng: np.random.Generator) -> Simulated:
    """A flange and a plate that are not square to the arbor, each high where it likes."""
    radii = {"flange": 1.0, "plate": 4.5}
    turning = Arbor(
        wobble=rng.uniform(0.0, 0.02) / 9.0,
        high=rng.uniform(0, 6),
        flange=rng.uniform(0.0, 0.005) / 2.0,
        flange_high=rng.uniform(0, 6),
    )
    needle, zero = indicator(rng), rng.uniform(-0.02, 0.02)
    typed, truth = [], {}
    for what, feature in (("flange", "flange"), ("plate", "wobble")):
        high, low, _ = turning.round(radii[what], flange_only=what == "flange")
        start = turning.dial(radii[what], 0.0, flange_only=what == "flange")
        for name, value in (("start", start), ("high", high), ("low", low), ("again", start)):
            typed += reads(needle, f"{what}_{name}", value + zero, 2 if name in ("high", "low") else 1)
        truth[feature] = (high - low) * INCH
    return Simulated("arbor", typed, truth, instruments=[known(rng, "indicator", needle)])


def gap_typed(thin: Shown, inches: float, where: str, names: tuple[str, str]) -> list[str]:
    """Two readings of a gap, and where it is; where no feeler goes in both are nought."""
    shown = [thin.read(inches * INCH) for _ in range(2)]
    if any(float(text.removesuffix("mm")) < 0.0381 for text in shown):
        return [f"{names[0]}=0", f"{names[1]}=none"]
    return [*(f"{names[0]}={text}" for text in shown), f"{names[1]}={where}"]


def tilt_90(rng: np.random.Generator) -> Simulated:
    """Keeper on either side, a block that may be tapered and then is cut from both ends."""
    sigma = rng.uniform(1e-4, 3e-4)
    blade = Leaning(rng.uniform(-5, 5) * math.radians(0.05), str(rng.choice(["left", "right"])))
    back = replace(blade, lean=blade.lean + rng.normal(0.0, sigma))
    tapered = bool(rng.integers(2))
    piece = block(rng.uniform(2.0, 2.6), rng.uniform(-0.003, 0.003) if tapered else 0.0)
    thin, jaws = feelers(rng), caliper(rng)
    typed = ["cycled=yes", f"square={'light' if abs(blade.lean) > 0.0012 else 'no-light'}"]
    typed += gap_typed(thin, *back.gap(piece), ("gap", "at"))
    if tapered:
        typed += gap_typed(thin, *back.gap(end_for_end(piece)), ("gap_turned", "at_turned"))
    typed += reads(jaws, "height", piece[2][1] / 2.0 + piece[3][1] / 2.0)
    own = [known(rng, "feelers", thin)]
    return Simulated("tilt-90", typed, {"bevel@0": blade.lean}, scatter=procedure(rng, sigma), instruments=own)


def tilt_45(rng: np.random.Generator) -> Simulated:
    """A ring that settles a little out of square; every joint is read, and the one run is off by its tilting back."""
    sigma, error = rng.uniform(1e-4, 3e-4), rng.uniform(-5, 5) * math.radians(0.1)
    bevel = math.pi / 4 + error + rng.normal(0.0, sigma)
    skew = rng.uniform(-1.0, 1.0) * abs(bevel - math.pi / 4)
    ring = Ring(bevel, rng.uniform(3.0, 4.0), rng.uniform(0.5, 1.0), skew)
    thin, jaws = feelers(rng), caliper(rng)
    gaps, where = ring.gaps()
    shown = [max(0.0, float(thin.read(gap * INCH).removesuffix("mm"))) for gap in gaps]
    shown = [gap if gap >= 0.0381 else 0.0 for gap in shown]  # no feeler goes in
    typed = ["cut=crosscut", f"at={where if any(shown) else 'none'}", *reads(jaws, "thickness", ring.thick, 2)]
    typed += [f"gap@{joint}={gap:.4f}mm" for joint, gap in enumerate(shown, 1)]
    for strip in range(1, 5):
        typed += reads(jaws, f"width@{strip}", ring.wide + rng.uniform(-5e-4, 5e-4), 2)
    own = [known(rng, "feelers", thin), known(rng, "caliper", jaws)]
    return Simulated("tilt-45", typed, {"bevel@45": error}, scatter=procedure(rng, sigma), instruments=own)


WORLDS = {
    "tilt-45": tilt_45,
    "tilt-90": tilt_90,
    "arbor": arbor,
    "insert": insert,
    "knife": knife,
    "rip-fence": rip_fence,
    "blade-parallel": blade_parallel,
}
