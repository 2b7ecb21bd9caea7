"""One simulated run of each check of flat things beside the blade, drawn anew; see simulated.py."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from scipy.optimize import linprog
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH, known, procedure
from tests.worlds.feeler import feel, feelers
from tests.worlds.measuring import caliper
from tests.worlds.straightedge import hollow
from tests.worlds.table import ENDS, Surface
from tests.worlds.wing import PLACES, Wing, gaps


def smallest_zone(places: list[tuple[float, float, float]]) -> float:
    """Least distance of two parallel planes that hold all places, by a linear programme."""
    a = np.array([[x, y, 1.0] for x, y, _ in places])
    z = np.array([place[2] for place in places])
    above = np.hstack([a, np.zeros((len(a), 1))])
    below = np.hstack([-a, -np.ones((len(a), 1))])
    done = linprog([0, 0, 0, 1], np.vstack([above, below]), np.concatenate([z, -z]), bounds=[(None, None)] * 4)
    assert done.fun is not None
    return float(done.fun)


def quadric(rng: np.random.Generator, size: float) -> Surface:
    """A tilted, twisted and bowed surface; `size` is about how much each of them is."""
    a, b, c = rng.uniform(-size, size, 3)
    tilt = rng.uniform(-1.0, 1.0, 2)

    def height(x: float, y: float) -> float:
        u, v = 2.0 * x / 560.0 - 1.0, 2.0 * y / 500.0 - 1.0
        return float(a * u * v + b * u * u + c * v * v + tilt[0] * u + tilt[1] * v)

    return Surface(height)


def table(rng: np.random.Generator) -> Simulated:
    """Up to five tolerances out; a straightedge with a bow that was proven over its three lengths by scribing."""
    surface, sigma, bow = quadric(rng, 0.5), rng.uniform(0.005, 0.02), rng.uniform(-0.15, 0.15)
    pack, jaws = feelers(rng), caliper(rng)
    full = surface.length("diagonal-keeper")

    def own(s: float, length: float) -> float:
        return float(bow * (length / full) ** 2 * 4.0 * s * (length - s) / length**2)

    typed = ["surface=table"]
    run = rng.normal(0.0, sigma)  # the whole procedure, in the unit of the flatness
    truth = smallest_zone(surface.nine())
    grown = Surface(lambda x, y: surface.height(x, y) * (1.0 + run / truth))
    for line in ENDS:
        sag = (grown if line != "blade" else surface).sag(line, own) + (run if line == "blade" else 0.0)
        name = "hollow" if sag >= 0.0 else "crown"
        typed.append(f"{name}@{line}={feel(pack, abs(sag))}")
    for name, line in (("across", "far"), ("along", "offcut"), ("diagonal", "diagonal-keeper")):
        length = surface.length(line)
        typed.append(f"scribed@{name}={jaws.read(2.0 * own(length / 2, length))}")
    beside = Surface(surface.height).sag("blade")
    instruments = [known(rng, "caliper", jaws), known(rng, "feelers", pack)]
    known_run = procedure(rng, sigma)
    return Simulated(
        "table", typed, {"table-flat": truth, "table-at-blade": beside}, scatter=known_run, instruments=instruments
    )


def wing(rng: np.random.Generator) -> Simulated:
    """Step and droop within five tolerances, any twist; a straightedge whose bow lies within its maker's limit."""
    first, droop = rng.uniform(-1.6, 2.0), rng.uniform(-4.0, 4.0)
    lean = (droop + rng.uniform(-0.5, 0.5)) / 305.0, (droop + rng.uniform(-0.5, 0.5)) / 305.0
    one = Wing((first, first + rng.uniform(-0.3, 0.3)), lean, rng.uniform(0.0, 2.0))
    sigma, limit = rng.uniform(0.01, 0.05), 0.05
    edge, pack = hollow(rng.uniform(-limit, limit), 610.0), feelers(rng)
    run = rng.normal(0.0, sigma)
    typed = [f"edge_limit={limit}mm"]

    def say(name: str, place: str, true: float) -> str:
        return f"{name}_{'low' if true >= 0.0 else 'high'}@{place}={feel(pack, abs(true))}"

    truth: dict[str, list[float]] = {"step": [], "droop": []}
    for place, share in PLACES.items():
        near, far = gaps(one, edge, place)
        typed += [say("joint", place, near + run), say("outer", place, far + 2.0 * run)]
        joint, outer = (one.below(x, share * one.along) for x in (one.joint, one.outer))
        truth["step"].append(joint)
        truth["droop"].append(outer - joint)
    typed.append(say("loaded", "middle", gaps(one, edge, "middle", loaded=True)[1] + 2.0 * run))
    step = max(truth["step"], key=lambda x: abs(x - INCH / 128))
    droops = truth["droop"]
    return Simulated(
        "wing",
        typed,
        {
            "wing-step": step,
            "wing-droop": max(droops, key=abs),
            "wing-twist": droops[2] - droops[0],
            "wing-deflection": one.sag * one.outer / one.width,
        },
        scatter=procedure(rng, sigma),
        instruments=[replace(known(rng, "feelers", pack), range_mm=None)],  # on a block of known size where they end
    )


WORLDS = {"table": table, "wing": wing}
