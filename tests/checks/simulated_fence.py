"""One simulated run of each check of a sled's fence and detents, drawn anew; see simulated.py."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH, known, procedure, reads
from tests.worlds.detent import Detent
from tests.worlds.feeler import feel, feelers
from tests.worlds.flip import cut_in_two
from tests.worlds.measuring import caliper, indicator, rule
from tests.worlds.ring import last_joint, mitred
from tests.worlds.sled import LAYOUTS, Sled
from tests.worlds.straightedge import Straightedge, hollow
from tests.worlds.upright import Block, Face


def flip(rng: np.random.Generator) -> Simulated:
    """Any layout, a fault within five tolerances, a ripped board with little taper; the cut is seated with scatter."""
    fence, keeper = LAYOUTS[rng.integers(4)]
    sled = Sled(fence, keeper)
    sled.make_tight(rng.uniform(-1e-3, 1e-3))
    sigma = rng.uniform(6e-5, 1.5e-4)
    pair = cut_in_two(sled, rng.uniform(4.5, 7.5), 20.0, rng.normal(0.0, 3e-5), rng.normal(0.0, sigma))
    jaws, pack, long = caliper(rng), feelers(rng), rule(rng)
    typed = reads(jaws, "board@keeper", pair.keeper_width, 2) + reads(jaws, "board@offcut", pair.offcut_width, 2)
    gaps = [feel(pack, pair.gap * INCH) for _ in range(2)]
    where = "none" if gaps[0] == "0" else pair.where
    gaps = ["0"] if where == "none" else [gap if gap != "0" else "0.0381mm" for gap in gaps]
    typed += [f"gap={gap}" for gap in gaps] + [f"where={where}", "mark=under"] + reads(long, "apart", pair.apart)
    return Simulated(
        "flip",
        typed,
        {"fence-angle": sled.tight},
        {"fence": fence, "keeper": keeper},
        procedure(rng, sigma),
        [known(rng, "caliper", jaws), known(rng, "feelers", pack)],
    )


def fence_straight(rng: np.random.Generator) -> Simulated:
    """A fence of 24 in, within five tolerances, a little wavy; a bowed straightedge that was proven by scribing."""
    length, tolerance = 24.0 * INCH, 0.003 * INCH
    bow, sigma = rng.uniform(-5, 5) * tolerance, rng.uniform(0.005, 0.015)
    face = hollow(bow + rng.normal(0.0, sigma), length, rng.normal(0.0, 0.003, 9).tolist())
    edge = Straightedge(hollow(rng.uniform(-0.15, 0.15), length), length)
    at = [round(length * n / 4, 4) for n in range(5)]
    pack, jaws = feelers(rng), caliper(rng)
    typed = [f"gap@{x}mm={feel(pack, g)}" for x, g in zip(at, edge.gaps(face, at), strict=True)]
    typed += [f"scribed@{x}mm={jaws.read(edge.scribed(x))}" for x in at[1:-1]]
    own = [known(rng, "caliper", jaws), known(rng, "feelers", pack)]
    return Simulated("fence-straight", typed, {"fence-straight": bow}, scatter=procedure(rng, sigma), instruments=own)


def fence_upright(rng: np.random.Generator) -> Simulated:
    """A face within five tolerances, a block of any angle with faces nearly parallel; it never stands twice alike."""
    sigma = rng.uniform(5e-5, 2e-4)
    face, high, thick = Face(rng.uniform(-5, 5) * 2e-3 / 3.0), rng.uniform(2.8, 4.0), rng.uniform(1.4, 2.5)
    out, faces = rng.normal(0.0, 1.5e-3), rng.normal(0.0, 3e-4)
    block = Block([(0.0, 0.0), (thick, 0.0), (thick + out * 5, 5.0), (out * 5 - faces * 5, 5.0)])
    stands = Face(face.lean + rng.normal(0.0, sigma))
    jaws, pack, long = caliper(rng), feelers(rng), rule(rng)
    typed = reads(jaws, "block@bottom", block.thickness(0.1), 2) + reads(jaws, "block@top", block.thickness(high), 2)
    typed += reads(long, "height", high - 0.1)
    for name, one in (("first", block), ("turned", block.turned_about())):
        top, bottom = one.gaps(stands, 0.1, high)
        typed += [f"{name}@{'top' if top >= bottom else 'bottom'}={feel(pack, max(top, bottom) * INCH)}"]
    own = [known(rng, "caliper", jaws), known(rng, "feelers", pack)]
    return Simulated("fence-upright", typed, {"fence-upright": face.lean}, {}, procedure(rng, sigma), own)


def detent_repeat(rng: np.random.Generator) -> Simulated:
    """A notch within five tolerances; what is seen of the scatter holds the indicator's own too."""
    needle, long, reach = indicator(rng), rule(rng), rng.uniform(10.0, 18.0)
    sd = rng.uniform(2e-5, 6e-4)
    detent = Detent(rng.uniform(-1.7e-3, 1.7e-3), sd, lambda s: float(rng.normal(0.0, s)))
    typed = reads(long, "reach", reach)
    for _ in range(6):
        typed += [
            f"{way}={needle.read(Detent.shown(detent.engage(way), reach) * INCH)}" for way in ("opening", "closing")
        ]
    both = 3.08 * math.hypot(sd, needle.sd / INCH / reach)
    return Simulated("detent-repeat", typed, {"detent-repeat": both, "detent-backlash": detent.play})


def detent_angle(rng: np.random.Generator) -> Simulated:
    """A ring of 4, 6 or 8 in any layout, the fence swung open or closed, a detent within five tolerances."""
    fence, keeper = LAYOUTS[rng.integers(4)]
    n, way = int(rng.choice([4, 6, 8])), rng.choice([-1.0, 1.0])
    error, width = rng.uniform(-5, 5) * math.radians(0.02), rng.uniform(1.5, 3.0)
    sled, sigma = Sled(fence, keeper), rng.uniform(3e-5, 1e-4)
    sled.make_tight(way * math.pi / n + error)
    seats = rng.normal(0.0, sigma * math.sqrt(2.0 * n), (n, 2))
    ring = [mitred(sled, width, (s[0], s[1]), rng.normal(0.0, 0.001)) for s in seats]
    joint, jaws, pack = last_joint(ring), caliper(rng), feelers(rng)
    gaps = [feel(pack, joint.gap * INCH) for _ in range(2)]
    where = "none" if gaps[0] == "0" else joint.where
    gaps = ["0"] if where == "none" else [gap if gap != "0" else "0.0381mm" for gap in gaps]
    typed = [f"swung={'closed' if way > 0 else 'open'}", "ends=one", f"where={where}", *(f"gap={gap}" for gap in gaps)]
    typed += [f"piece={jaws.read(piece.length * INCH)}" for piece in ring] + reads(jaws, "width", width)
    own = [replace(known(rng, "feelers", pack), range_mm=None), replace(known(rng, "caliper", jaws), range_mm=None)]
    return Simulated("detent-angle", typed, {"detent-angle": error}, {}, procedure(rng, sigma), own)


WORLDS = {
    "flip": flip,
    "fence-straight": fence_straight,
    "fence-upright": fence_upright,
    "detent-repeat": detent_repeat,
    "detent-angle": detent_angle,
}
