"""Blunders of the checks of caliper, kerf and stop. One run each."""

from __future__ import annotations

import math
from dataclasses import replace

from benchmarks.planted.kind import Kind, Planted
from benchmarks.planted.typed import (
    CALIPER_SD,
    Change,
    Changed,
    Plant,
    Rng,
    changed_world,
    differ,
    either,
    mm,
    places,
    retyped,
    said,
    shifted,
    told,
)
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH, reads
from tests.worlds.measuring import caliper, own_scatter
from tests.worlds.stop import Stop


def light_between(_rng: Rng, one: Simulated) -> Changed:
    """Light comes through the closed jaws."""
    return retyped(one, light="yes"), True


def crushed(rng: Rng, one: Simulated) -> Changed:
    """The edge gives way under the jaws, reading after reading."""
    at, step = places(one.typed, "edge"), rng.uniform(0.0, 0.2)
    typed = [f"edge={mm(t) - step * at.index(i):.2f}mm" if i in at else t for i, t in enumerate(one.typed)]
    return replace(one, typed=typed), step * (len(at) - 1) > 9.0 * math.hypot(one.truth["caliper-repeat"], 0.003)


def not_zeroed(rng: Rng, one: Simulated) -> Changed:
    """The zero was not set: all readings hold the same error, of up to 0.01 in."""
    by = either(rng) * rng.uniform(0.0, 0.01) * INCH
    zero = one.truth["caliper-zero"] + by
    return shifted(one, by, "closed", "known", "tip", "root", "edge"), abs(zero) > 0.0005 * INCH + 2.0 * 0.02


def wanders(rng: Rng, one: Simulated) -> Changed:
    """Once the closed jaws come to rest on dirt."""
    by = rng.uniform(0.0, 0.008) * INCH
    return shifted(one, by, "closed", last=1), by > 0.001 * INCH + differ(0.02)


def longer_piece(rng: Rng, one: Simulated) -> Changed:
    """One piece is of another board."""
    by = one.truth["kerf"] + rng.uniform(-0.5, 8.0)
    return shifted(one, by, str(rng.choice(["keeper_piece", "offcut_piece"]))), by - one.truth["kerf"] > 0.1


def below_plate(rng: Rng, one: Simulated) -> Changed:
    """The whole was read too short: less than the plate is left."""
    kerf, plate = one.truth["kerf"], 0.7 * one.truth["kerf"]
    by = rng.uniform(0.0, 0.95) * kerf
    return told(shifted(one, -by, "whole"), plate=f"{plate:.3f}mm"), 0.1 < kerf - by < plate - 2.0 * CALIPER_SD


def board_moved(least: float, most: float, usual: float) -> Change:
    """The board moved in the cut, or the blade wobbles: the kerf is over its mark."""

    def change(rng: Rng, one: Simulated) -> Changed:
        by = rng.uniform(least, most) * INCH
        marked = told(shifted(one, by, "whole"), marked=f"{one.truth['kerf']:.4f}mm")
        return marked, by > usual * INCH + 2.0 * CALIPER_SD

    return change


def written(share: float) -> Plant:
    """The offset that is written on the fence left out (1), put in with the wrong sign (2) or twice (-1)."""

    def plant(rng: Rng) -> Planted:
        offset, jaws, typed = rng.uniform(0.0, 1.2) * INCH, caliper(rng), []
        sd = own_scatter(rng, 0.05, 4) / INCH
        for reading in (6, 12, 18, 24):
            stop = Stop(origin=share * offset / INCH)
            stop.set_to(reading)
            typed += reads(jaws, f"measured@{reading}in", stop.cut() + rng.normal(0.0, sd))
        one = Simulated("stop-scale", typed, {}, {"offset": f"{offset:.3f}mm"})
        return Planted(said(one), offset > 25.0 * max(sd * INCH, 0.05))

    return plant


def seats_itself(rng: Rng, one: Simulated) -> Changed:
    """With the first part the stop seats itself."""
    by, at = either(rng) * rng.uniform(0.0, 0.06) * INCH, places(one.typed, "part")[0]
    typed = [f"part={mm(t) + by:.3f}mm" if i == at else t for i, t in enumerate(one.typed)]
    return replace(one, typed=typed), abs(by) > 10.0 * one.truth["stop-repeat"]


def kinds() -> list[Kind]:
    """Every kind, by check."""
    beyond = "it is more, by twice its scatter, than "
    far = "the offset is 25 times what a setting of this stop scatters"
    changes = [
        ("light between the jaws", "caliper", "light-in-jaws", "always", light_between),
        ("edge that gives way", "caliper", "crushed-edge", "over the series it is nine times the scatter", crushed),
        ("zero not set", "caliper", "not-zeroed", f"{beyond}0.0005 in", not_zeroed),
        ("dirt between the jaws once", "caliper", "zero-wanders", f"{beyond}0.001 in", wanders),
        ("piece of another board", "kerf", "no-kerf burned-inch unit-slip", "no kerf is left, by 0.1 mm", longer_piece),
        ("whole read too short", "kerf", "under-plate", "less than the plate is left, and reading", below_plate),
        ("wobble", "kerf", "wobble over-marked", f"{beyond}0.010 in", board_moved(0.0, 0.02, 0.010)),
        ("board moved in the cut", "kerf", "over-marked", f"{beyond}0.020 in", board_moved(0.0, 0.08, 0.020)),
        ("stop seats itself", "stop-repeat", "first-part drifting", "it is ten times the scatter of one", seats_itself),
    ]
    plants = [
        ("written offset left out", "stop-scale", "offset-left-out", far, written(1.0)),
        ("written offset, wrong sign", "stop-scale", "offset-sign", far, written(2.0)),
        ("written offset twice", "stop-scale", "offset-twice", far, written(-1.0)),
    ]
    made = [Kind(a, where, frozenset(code.split()), s, changed_world(where, c)) for a, where, code, s, c in changes]
    return made + [Kind(a, where, frozenset(code.split()), s, p) for a, where, code, s, p in plants]
