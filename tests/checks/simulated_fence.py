"""One simulated run of each check of a sled's fence and detents, drawn anew; see simulated.py."""

from __future__ import annotations

import numpy as np
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH, known, procedure, reads
from tests.worlds.feeler import feel, feelers
from tests.worlds.flip import cut_in_two
from tests.worlds.measuring import caliper, rule
from tests.worlds.sled import LAYOUTS, Sled


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


WORLDS = {"flip": flip}
