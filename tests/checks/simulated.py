"""One simulated run of each check, drawn anew: a shop with its own fault, read with its own instruments.

The shop knows the scatter of its procedure from four deviations, and that of its instruments from ten readings, as a
book would after some days: what it knows is drawn anew too. (A start that is only assumed has no coverage of its own:
it is too wide in a shop that scatters less, too narrow in one that scatters more.)
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from tests.checks.ran import Simulated
from tests.worlds.measuring import Shown, caliper, indicator, learnt, own_scatter, rule
from tests.worlds.sled import LAYOUTS, Sled
from tests.worlds.slot import Slot
from tests.worlds.stop import Stop

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.instrument import DEFAULTS, Instrument

INCH = 25.4


def known(rng: np.random.Generator, kind: str, shown: Shown) -> Instrument:
    """The shop's own instrument, its repeat as seen in ten readings."""
    return replace(DEFAULTS[kind], id=f"{kind}-1", repeat=EstimatedSd(learnt(rng, shown.sd, 10), 10))


def procedure(rng: np.random.Generator, sigma: float) -> EstimatedSd:
    """The scatter between runs as this shop has seen it in four deviations."""
    return EstimatedSd(learnt(rng, sigma, 4), 4, seen=4, pairs=4)


def reads(shown: Shown, name: str, inches: float, times: int = 1) -> list[str]:
    return [f"{name}={shown.read(inches * INCH)}" for _ in range(times)]


def five_cut(rng: np.random.Generator) -> Simulated:
    """A shop that scatters from rather little to rather much between its runs."""
    return five_cut_with(rng, rng.uniform(3e-5, 1e-4))


def five_cut_with(rng: np.random.Generator, sigma: float) -> Simulated:
    """Any layout, a fault within five tolerances; the four cuts that count are each seated with scatter.

    Four independent seatings of sigma move the angle by sigma / 2, so a run that scatters by s has cuts that do by 2 s.
    """
    fence, keeper = LAYOUTS[rng.integers(4)]
    sled = Sled(fence, keeper)
    sled.make_tight(rng.uniform(-1e-3, 1e-3))
    strip = sled.five_cuts(seats=rng.normal(0.0, 2.0 * sigma, 5).tolist())
    jaws, long = caliper(rng), rule(rng)
    typed = reads(jaws, "fence_end", strip.fence_end, 2) + reads(jaws, "free_end", strip.free_end, 2)
    typed += reads(jaws, "middle", strip.middle, 2) + reads(long, "length", strip.length)
    return Simulated(
        "five-cut",
        typed,
        {"fence-angle": sled.tight},
        {"fence": fence, "keeper": keeper},
        procedure(rng, sigma),
        [known(rng, "caliper", jaws)],
    )


def kerf(rng: np.random.Generator) -> Simulated:
    """A board of any length under 6 in, cut anywhere; each read three times."""
    true, whole = rng.uniform(0.060, 0.160), rng.uniform(3.0, 6.0)
    keeper = rng.uniform(0.3, 0.6) * whole
    jaws = caliper(rng)
    typed = reads(jaws, "whole", whole, 3) + reads(jaws, "keeper_piece", keeper, 3)
    typed += reads(jaws, "offcut_piece", whole - keeper - true, 3)
    return Simulated("kerf", typed, {"kerf": true * INCH}, instruments=[known(rng, "caliper", jaws)])


def stop_scale(rng: np.random.Generator) -> Simulated:
    """Four lengths; each part has its own setting and seating."""
    stop = Stop(origin=rng.uniform(-0.025, 0.025), stretch=1.0 + rng.uniform(-1.5e-3, 1.5e-3))
    sd, jaws = own_scatter(rng, math.hypot(0.005, 0.0034), 4), caliper(rng)  # in
    typed = []
    for reading in (6, 12, 18, 24):
        stop.set_to(reading)
        typed += reads(jaws, f"measured@{reading}in", stop.cut() + rng.normal(0.0, sd))
    return Simulated("stop-scale", typed, {"stop-offset": stop.offset * INCH, "stop-slope": stop.slope})


def stop_repeat(rng: np.random.Generator) -> Simulated:
    """Six parts at one setting of a stop that scatters; what is seen holds the reading's scatter too."""
    stop, jaws = Stop(origin=rng.uniform(-0.01, 0.01), stretch=1.0 + rng.normal(0.0, 3e-4)), caliper(rng)
    sd = rng.uniform(0.0005, 0.004)
    stop.set_to(12.0)
    stop.stop += rng.normal(0.0, own_scatter(rng, 0.005, 4))
    typed = ["set=12in"]
    for _ in range(6):
        typed += reads(jaws, "part", stop.cut() + rng.normal(0.0, sd))
    both = math.hypot(sd * INCH, jaws.sd)
    return Simulated("stop-repeat", typed, {"stop-repeat": both, "stop-offset": stop.offset * INCH})


def bar_play(rng: np.random.Generator) -> Simulated:
    """A slot that is worn most where the sled starts; less of the bar is engaged there."""
    worn = sorted(rng.uniform(0.0, 0.006, 3), reverse=True)
    slot = Slot({at: 0.750 + worn[n] for n, at in enumerate((0.0, 10.0, 20.0))}, 0.750 - rng.uniform(0.002, 0.004))
    sigma = rng.uniform(0.005, 0.02)
    hands, needle, long = rng.normal(0.0, sigma), indicator(rng), rule(rng)
    typed, swings = [], []
    for place, at, engaged in (("start", 0.0, 10.7), ("middle", 10.0, 20.0), ("end", 20.0, 14.0)):
        typed.append(f"play@{place}={needle.read(slot.play(at) * INCH + hands).replace('-', '')}")
        typed += reads(long, f"engaged@{place}", engaged)
        swings.append(slot.swing(at, engaged))
    most = max(slot.play(at) for at in slot.widths) * INCH
    truth = {"bar-play": most, "bar-swing": max(swings)}
    own = [known(rng, "indicator", needle)]
    return Simulated("bar-play", typed, truth, scatter=procedure(rng, sigma), instruments=own)


WORLDS = {
    "five-cut": five_cut,
    "kerf": kerf,
    "stop-scale": stop_scale,
    "stop-repeat": stop_repeat,
    "bar-play": bar_play,
}
