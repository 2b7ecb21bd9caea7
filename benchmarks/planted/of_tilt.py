"""Blunders of the checks of the tilt stops. One run each."""

from __future__ import annotations

import math
from dataclasses import replace

from benchmarks.planted.kind import Kind, Planted
from benchmarks.planted.typed import (
    CALIPER_SD,
    FEELER_SD,
    Changed,
    Rng,
    changed_world,
    differ,
    mm,
    name_of,
    retyped,
    said,
    shifted,
    told,
)
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH
from tests.worlds.feeler import feel, feelers
from tests.worlds.tilt import Leaning, block, end_for_end


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
    return replace(one, typed=["gap=0", "at=none", *typed]), abs(one.truth["bevel@0"]) > 0.0012


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


def kinds() -> list[Kind]:
    """Every kind, by check."""
    needle = "it is more, by twice its scatter, than "
    changes = [
        ("not rolled", "tilt-90", "turned-not-rolled", "the lean shows light at a square (0.0012 rad)", not_rolled),
        ("not tilted away and back", "tilt-90", "not-cycled", "always", not_cycled),
        ("unequal strips", "tilt-45", "unequal-strips", f"{needle}0.004 in", unequal_strips),
        ("blade leaning over the fence", "tilt-45", "leans-over-fence", "always", over_the_fence),
    ]
    plants = [
        ("block not parallel", "tilt-90", "block-tapered", f"{needle}0.004 in", block_tapered),
        ("block not parallel, one cut", "tilt-90", "square-disagrees", f"{needle}0.1 degree", one_cut_of_a_taper),
    ]
    made = [Kind(a, where, frozenset(code.split()), s, changed_world(where, c)) for a, where, code, s, c in changes]
    return made + [Kind(a, where, frozenset(code.split()), s, p) for a, where, code, s, p in plants]
