"""Simulated runs of the checks of instruments, stock and work. See simulated.py."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import numpy as np
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH, known, reads
from tests.worlds.board import Edge
from tests.worlds.box import Box
from tests.worlds.groove import Groove
from tests.worlds.jaws import Jaws, Tape
from tests.worlds.measuring import Shown, caliper, own_scatter, tape
from tests.worlds.rip import Rip
from tests.worlds.sight import Blade, Sight
from tests.worlds.tipping import Load

from trued.measure.instrument import DEFAULTS

POUND = 0.45359237
SCALES = {"kitchen": (0.001, 0.005), "luggage": (0.01, 0.05)}  # kg: step, limit of error


def caliper_itself(rng: np.random.Generator) -> Simulated:
    """A caliper with a zero, a stretch and worn jaws, read on steel and on wood; a tape with a bent hook."""
    jaws = Jaws(rng.uniform(-0.002, 0.002), 1.0 + rng.uniform(-2e-3, 2e-3), rng.uniform(-0.004, 0.004))
    steel, wood = Shown(rng, 0.01, rng.uniform(0.008, 0.02), 0.0), Shown(rng, 0.01, rng.uniform(0.01, 0.06), 0.0)
    tip, marked, scrap = jaws.reach, rng.uniform(0.2, 0.9), rng.uniform(0.5, 0.9)
    true = marked + rng.uniform(-0.005, 0.005) / INCH
    typed = [f"closed={steel.read(jaws.closed() * INCH)}" for _ in range(5)]
    typed += [f"known={steel.read(jaws.over(true, tip / 2) * INCH)}" for _ in range(5)]
    typed += [f"tip={steel.read(jaws.over(true, tip) * INCH)}" for _ in range(4)]
    typed += [f"root={steel.read(jaws.over(true, 0.0) * INCH)}" for _ in range(4)]
    typed += [f"edge={wood.read(jaws.over(scrap, tip / 2) * INCH)}" for _ in range(6)]
    typed.append(f"marked={marked * INCH:.6f}mm")
    long, stick = tape(rng), rng.uniform(24.0, 60.0)
    bent = Tape(rng.uniform(-0.05, 0.05), slides=rng.uniform(0.0, 0.1))
    pairs = (("hook_pull", bent.hooked), ("hook_push", bent.pushed), ("from_line", bent.from_line))
    typed += [f"{name}={long.read(what(stick) * INCH)}" for name, what in pairs for _ in range(2)]
    truth = {
        "caliper-zero": jaws.closed() * INCH,
        "caliper-repeat": wood.sd,
        "caliper-scale": (jaws.over(true, tip / 2) - jaws.closed() - true) * INCH,
        "caliper-jaws": (jaws.over(true, tip) - jaws.over(true, 0.0)) * INCH,
        "tape-hook": (bent.pushed(stick) - bent.hooked(stick)) * INCH,
        "tape-start": bent.pulled * INCH,
    }
    own = [replace(DEFAULTS["caliper"], id="caliper-1"), replace(known(rng, "tape", long), resolution=long.step)]
    return Simulated("caliper", typed, truth, instruments=own)


def sight_line(rng: np.random.Generator) -> Simulated:
    """Either keeper, a line off by five tolerances at most and above the work; an eye that keeps its place in a run."""
    keeper = str(rng.choice(["left", "right"]))
    blade = Blade(rng.uniform(0.09, 0.13), rng.uniform(0.06, 0.085), str(rng.choice(["left", "right"])))
    above, jaws = rng.uniform(0.05, 0.25), caliper(rng)
    sight = Sight(blade, keeper, 0.0, above, (rng.uniform(-2.0, 2.0), 18.0))
    sight.set_line()
    sight.line += rng.uniform(-0.05, 0.05)
    straight_above = replace(sight, eye=(0.0, 18.0))
    sd = own_scatter(rng, 0.005, 4)
    typed = []
    for to_mark in (4.0, 4.5, 5.0):
        length = sight.cut(to_mark, rng.normal(0.0, sd))
        typed += reads(jaws, "to_mark", to_mark) + reads(jaws, "to_cut", length)
    open_by = rng.uniform(0.0, 0.06)
    typed += reads(jaws, "facing_kerf", blade.kerf + open_by, 2)
    truth = {"sight-line": (straight_above.cut(5.0) - 5.0) * INCH, "zero-clearance": open_by * INCH}
    facts = {"keeper": keeper, "above": f"{above:.4f}in", "marked": f"{blade.kerf:.6f}in"}
    return Simulated("sight-line", typed, truth, facts, instruments=[known(rng, "caliper", jaws)])


def feelers(rng: np.random.Generator) -> Shown:
    return Shown.drawn(rng, 0.0005 * INCH, 0.005, 0.013)


def stock(rng: np.random.Generator) -> Simulated:
    """A board of its own thickness, evenness, crook, cup, twist and moisture; a meter with an error of its own."""
    jaws, thin, long, short = caliper(rng), feelers(rng), tape(rng), Shown.drawn(rng, INCH / 64, 0.3, 0.3)
    sd, mean = rng.uniform(0.0005, 0.006), rng.uniform(0.5, 1.0)
    edge = Edge(rng.uniform(30.0, 90.0), rng.uniform(-1.0, 1.0) * 0.08)
    cup, twist = rng.uniform(-0.1, 0.1, 2)
    typed = [t for _ in range(6) for t in reads(jaws, "thickness", mean + rng.normal(0.0, sd))]
    typed += reads(thin, "crook", edge.back(edge.length / 2), 2) + reads(long, "crook_length", edge.length)
    typed += reads(thin, "cup", cup, 2) + reads(short, "twist", twist, 2)
    wet, meter = rng.uniform(6.0, 14.0), rng.uniform(-1.0, 1.0)
    typed += [f"moisture={wet + meter + rng.normal(0.0, 0.35):.1f}" for _ in range(3)]
    truth = {
        "stock-thickness": mean * INCH,
        "stock-even": float(np.hypot(sd * INCH, jaws.sd)),
        "stock-edge": edge.end_angle(),
        "stock-cup": cup * INCH,
        "stock-twist": twist * INCH,
        "stock-moisture": wet,
    }
    own = [known(rng, kind, shown) for kind, shown in (("feelers", thin), ("rule", short), ("tape", long))]
    return Simulated("stock", typed, truth, instruments=[known(rng, "caliper", jaws), *own])


def dado(rng: np.random.Generator) -> Simulated:
    """A groove of several passes and three shelves of a sheet; inside jaws that differ from the outside ones."""
    jaws, inside = caliper(rng), rng.uniform(-0.01, 0.01)
    groove = Groove.cut(rng.uniform(0.09, 0.13), 7, rng.uniform(0.06, 0.08))
    sheet = groove.width - rng.uniform(-0.02, 0.02)
    shelves = sheet + rng.normal(0.0, rng.uniform(0.0003, 0.006), 3)
    typed = [f"groove={jaws.read(groove.width * INCH + inside)}" for _ in range(3)]
    typed += [t for shelf in shelves for t in reads(jaws, "shelf", shelf)]
    deep = rng.uniform(0.001, 0.01)
    typed += [t for _ in range(5) for t in reads(jaws, "depth", 0.25 + rng.normal(0.0, deep))]
    truth = {
        "dado-fit": (groove.width - max(shelves)) * INCH,
        "dado-depth": float(np.hypot(deep * INCH, jaws.sd)),
    }
    return Simulated("dado", typed, truth, instruments=[known(rng, "caliper", jaws)])


def leaving(share: float, s: float) -> float:
    return share * s


def rip_parallel(rng: np.random.Generator) -> Simulated:
    """Three strips of one setting; each leaves the fence at its end by what this feed does, a little more or less."""
    jaws, taper = caliper(rng), rng.uniform(-0.025, 0.025)
    feed = own_scatter(rng, float(np.hypot(0.05, np.sqrt(2) * jaws.sd)), 4)
    own = np.sqrt(max(0.0, feed**2 - 2 * jaws.sd**2)) / INCH
    repeat, typed = rng.uniform(0.001, 0.004), []
    for _ in range(3):
        ends = taper + rng.normal(0.0, own)
        rip = Rip(2.0 + rng.normal(0.0, repeat), 24.0, off_fence=partial(leaving, ends / 24.0))
        for name, s in (("lead", 0.0), ("middle", 12.0), ("trail", 24.0)):
            typed += reads(jaws, name, rip.width(s))
    middle = float(np.sqrt(repeat**2 + (own / 2) ** 2)) * INCH
    truth = {"rip-taper": taper * INCH, "rip-repeat": float(np.hypot(middle, jaws.sd))}
    return Simulated("rip-parallel", typed, truth, instruments=[known(rng, "caliper", jaws)])


def diagonals(rng: np.random.Generator) -> Simulated:
    """A box racked by five tolerances at most, all of it read with one tape."""
    long, (width, height) = tape(rng), rng.uniform(12.0, 40.0, 2)
    box = Box(width, height, width, height, np.pi / 2 - rng.uniform(-7.5e-3, 7.5e-3))
    one, two = box.diagonals()
    typed = reads(long, "diagonal_1", one, 2) + reads(long, "diagonal_2", two, 2)
    typed += reads(long, "width", width) + reads(long, "height", height)
    typed += reads(long, "other_width", width) + reads(long, "other_height", height)
    own = replace(known(rng, "tape", long), resolution=long.step)
    return Simulated("diagonals", typed, {"box-square": box.tight()}, instruments=[own])


def support(rng: np.random.Generator) -> Simulated:
    """A sled with a board before and after its offcut is gone, weighed on a scale with an error of its own."""
    kind = str(rng.choice(list(SCALES)))
    (step, limit), long = SCALES[kind], tape(rng)
    scale, edge = Shown(rng, step, step, rng.uniform(-limit, limit)), rng.uniform(14.0, 22.0)
    weight, low, high = rng.uniform(2.0, 8.0), rng.uniform(-10.0, 0.0), rng.uniform(12.0, 30.0)
    sled = (9.0, 0.0, 18.0)
    loads = {
        "start": Load([sled, (weight, low, high)], edge),
        "end": Load([sled, (weight * high / (high - low), 0.0, high)], edge),
    }
    typed = [f"foot_lifted@{end}=no" for end in loads]
    for end, load in loads.items():
        span = rng.uniform(6.0, 10.0) + max(0.0, load.edge - load.balance())  # so that it stands on both battens
        typed += [f"tipped@{end}={_yes(load.tips())}", f"gave@{end}={_yes(load.tips(1.0, high))}"]
        held = max(0.0, load.on_springs(span)) * POUND
        typed += [f"weight@{end}={scale.read(load.weight * POUND, 'kg')}" for _ in range(2)]
        typed += [f"held@{end}={max(0.0, float(scale.read(held, ''))):.4f}kg" for _ in range(2)]
        typed += [f"span@{end}={long.read(span * INCH)}" for _ in range(2)]
    truth = min(load.edge - load.balance() for load in loads.values()) * INCH
    own = replace(known(rng, "tape", long), resolution=long.step)
    return Simulated("support", typed, {"support-margin": truth}, {"scale": kind}, instruments=[own])


def _yes(said: bool) -> str:
    return "yes" if said else "no"


WORLDS = {
    "support": support,
    "diagonals": diagonals,
    "rip-parallel": rip_parallel,
    "dado": dado,
    "stock": stock,
    "sight-line": sight_line,
    "caliper": caliper_itself,
}
