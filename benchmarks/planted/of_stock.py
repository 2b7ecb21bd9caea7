"""Blunders of the checks of stock, grooves and ripping. One run each."""

from __future__ import annotations

import math
from dataclasses import replace

from benchmarks.planted.kind import Kind, Planted
from benchmarks.planted.typed import (
    CALIPER_SD,
    Change,
    Changed,
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
from tests.checks.simulated import INCH, known
from tests.worlds.measuring import caliper

NAMES = (12.7, 19.05, 25.4, 12.0, 18.0)  # mm: what boards are called


def by_its_name(name: str) -> Change:
    """What a board is called, typed for what it is."""

    def change(rng: Rng, one: Simulated) -> Changed:
        called = float(rng.choice(NAMES))
        at = places(one.typed, name)
        groove = {} if one.check == "stock" else {"groove": f"{called + rng.uniform(0.0, 0.3):.2f}mm"}
        typed = [f"{name}={called:g}mm" if i in at else t for i, t in enumerate(one.typed)]
        return retyped(replace(one, typed=typed), **groove), True

    return change


def another_groove(rng: Rng, one: Simulated) -> Changed:
    """The groove of another shelf."""
    by = either(rng) * rng.uniform(2.0, 10.0)
    return shifted(one, by, "groove"), abs(by) > 3.0 + 0.02 * INCH + differ(CALIPER_SD) + 0.02 * INCH


def below_a_kerf(rng: Rng, one: Simulated) -> Changed:
    """The inside jaws were held askew in a groove of one pass, or below the groove of this blade."""
    kerf, by = rng.uniform(2.2, 3.3), rng.uniform(0.0, 0.04) * INCH
    spoilt = retyped(one, groove=f"{kerf - by + rng.normal(0.0, CALIPER_SD):.2f}mm", shelf=f"{kerf:.2f}mm")
    return told(spoilt, marked=f"{kerf:.3f}mm"), by > 0.005 * INCH + 2.0 * CALIPER_SD


def uneven_groove(rng: Rng, one: Simulated) -> Changed:
    """The stop moved between the passes, or ridges were left."""
    by = rng.uniform(0.0, 0.02) * INCH
    return shifted(one, by, "groove", last=1), by > 0.004 * INCH + differ(CALIPER_SD)


def another_sheet(_rng: Rng, one: Simulated) -> Changed:
    """Tried in a scrap of another sheet."""
    return retyped(one, same_sheet="no"), True


def wet_surface(rng: Rng, one: Simulated) -> Changed:
    """One spot is wet, or freshly dried."""
    by, at = rng.uniform(0.0, 6.0), places(one.typed, "moisture")[-1]
    number = float(one.typed[at].partition("=")[2]) + by
    typed = [f"moisture={number:.1f}" if i == at else t for i, t in enumerate(one.typed)]
    return replace(one, typed=typed), by > 2.0 + differ(0.35)


def meter_not_set(_rng: Rng, one: Simulated) -> Changed:
    """The meter is set to another species."""
    return retyped(one, meter_set="no"), True


def part_too_long(rng: Rng, one: Simulated) -> Changed:
    """The part is longer than the stretch that was looked at."""
    length = mm(next(t for t in one.typed if t.startswith("crook_length")))
    return told(one, part=f"{length + rng.uniform(30.0, 600.0):.1f}mm"), True


def another_setting(rng: Rng, one: Simulated) -> Changed:
    """One strip is of another setting of the fence."""
    by = either(rng) * rng.uniform(0.0, 0.25) * INCH
    spoilt = one
    for name in ("lead", "middle", "trail"):
        spoilt = shifted(spoilt, by, name, last=1)
    return spoilt, abs(by) > (1 / 16 + 0.012) * INCH


def stock_moved(rng: Rng, one: Simulated) -> Changed:
    """The strips came off the fence on their way, or closed: thin or fat in the middle."""
    by = either(rng) * rng.uniform(0.0, 0.03) * INCH
    return shifted(one, by, "middle"), abs(by) > 0.005 * INCH + 2.0 * math.sqrt(1.5 / 3.0) * CALIPER_SD


def fence_creeps(rng: Rng) -> Planted:
    """The fence gives way from strip to strip; eight strips."""
    jaws, step, sd = caliper(rng), either(rng) * rng.uniform(0.0, 0.006) * INCH, rng.uniform(0.0005, 0.002) * INCH
    typed = []
    for n in range(8):
        width = 2.0 * INCH + n * step + rng.normal(0.0, sd)
        typed += [f"{name}={jaws.read(width)}" for name in ("lead", "middle", "trail")]
    one = Simulated("rip-parallel", typed, {}, instruments=[known(rng, "caliper", jaws)])
    return Planted(said(one), 7.0 * abs(step) > 8.0 * math.hypot(sd, CALIPER_SD))


def unlike_feeds(rng: Rng, one: Simulated) -> Changed:
    """One strip was stopped on its way: it tapers otherwise."""
    by = rng.uniform(0.0, 0.04) * INCH
    ends = [(mm(one.typed[i]), mm(one.typed[j])) for i, j in zip(places(one.typed, "lead"), places(one.typed, "trail"),
                                                                 strict=True)]  # fmt: skip
    tapers = [lead - trail for lead, trail in ends]
    tapers[-1] += by
    apart = max(tapers) - min(tapers)
    return shifted(one, by, "lead", last=1), 0.010 * INCH + differ(CALIPER_SD, 0.5) < apart < INCH / 16


def kinds() -> list[Kind]:
    """Every kind, by check."""
    beyond = "it is more, by twice its scatter, than "
    changes = [
        ("what a sheet is called", "dado", "nominal", "always", by_its_name("shelf")),
        ("another groove", "dado", "other-joint unit-slip", f"{beyond}3 mm", another_groove),
        ("jaws askew in a groove", "dado", "narrower-than-kerf", f"{beyond}0.005 in", below_a_kerf),
        ("stop moved between passes", "dado", "groove-uneven", f"{beyond}0.004 in", uneven_groove),
        ("scrap of another sheet", "dado", "other-sheet", "always", another_sheet),
        ("what a board is called", "stock", "nominal", "always", by_its_name("thickness")),
        ("wet surface", "stock", "moisture-uneven", f"{beyond}2 %", wet_surface),
        ("meter not set", "stock", "meter-not-set", "always", meter_not_set),
        ("part longer than what was looked at", "stock", "part-crook", "always", part_too_long),
        ("another setting", "rip-parallel", "other-setting", "it is more than 0.075 in", another_setting),
        ("stock moved", "rip-parallel", "stock-moved", f"{beyond}0.005 in", stock_moved),
        ("stopped on the way", "rip-parallel", "unlike-tapers", f"{beyond}0.010 in, below 1/16 in", unlike_feeds),
    ]
    plants = [
        ("fence that creeps", "rip-parallel", "fence-creeps", "over eight strips it is eight times", fence_creeps),
    ]
    made = [Kind(a, where, frozenset(code.split()), s, changed_world(where, c)) for a, where, code, s, c in changes]
    return made + [Kind(a, where, frozenset(code.split()), s, p) for a, where, code, s, p in plants]
