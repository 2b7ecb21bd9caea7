"""Blunders of the checks of a sled's fence: five cuts, flip, straight, upright. One run each."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
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
    places,
    retyped,
    said,
    shifted,
)
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH, known, procedure, reads
from tests.worlds.feeler import feel, feelers
from tests.worlds.flip import cut_in_two
from tests.worlds.measuring import caliper, rule
from tests.worlds.polygon import Polygon, chord
from tests.worlds.sled import CROOKED, LAYOUTS, Sled
from tests.worlds.straightedge import Straightedge, hollow
from tests.worlds.upright import Block, Face

LONG, AT = 24.0 * INCH, [0.0, 152.4, 304.8, 457.2, 609.6]


def another_strip(rng: Rng, one: Simulated) -> Changed:
    """The free end was read on another strip."""
    width = mm(one.typed[0])
    by = rng.choice([-1.0, 1.0]) * rng.uniform(0.0, 0.6) * width
    return shifted(one, float(by), "free_end"), abs(by) > 0.25 * width


def wrong_turn(rng: Rng) -> Planted:
    """After each cut the panel is turned the other way: the edge across from the fresh one goes to the fence."""
    fence, keeper = LAYOUTS[rng.integers(4)]
    sled, board = Sled(fence, keeper), CROOKED
    sled.make_tight(rng.uniform(-1e-3, 1e-3))
    edge, offcut = (board[2], board[3]), board
    for trim in (0.5, 0.5, 0.5, 0.5, 1.0):
        board, offcut, _ = sled.cut(board, edge, trim, rng.normal(0.0, 1e-4))
        edge = across_from_fresh(board)
    typed, taper, length = strip_typed(rng, sled, offcut)
    one = Simulated("five-cut", typed, {}, {"fence": fence, "keeper": keeper})
    return Planted(said(one), abs(taper) > 0.26 or abs(taper) > 4.1 * 0.01 * length)


def across_from_fresh(board: Polygon) -> tuple[tuple[float, float], tuple[float, float]]:
    """Of a four-sided board the edge across from the one on the blade's plane."""
    fresh = next(i for i, p in enumerate(board) if abs(p[0]) < 1e-9 and abs(board[(i + 1) % len(board)][0]) < 1e-9)
    return board[(fresh + 2) % len(board)], board[(fresh + 3) % len(board)]


def strip_typed(rng: Rng, sled: Sled, strip: Polygon) -> tuple[list[str], float, float]:
    """Widths near both ends, read twice each; the true taper and length."""
    ys = sorted((min(y for _, y in strip) + 0.5, max(y for _, y in strip) - 0.5), reverse=sled.fence == "far")
    jaws, (at_fence, free) = caliper(rng), ([high - low for low, high in (chord(strip, y) for y in ys)])
    typed = [*reads(jaws, "fence_end", at_fence, 2), *reads(jaws, "free_end", free, 2)]
    return [*typed, f"length={abs(ys[0] - ys[1]) * INCH:.1f}mm"], free - at_fence, abs(ys[0] - ys[1])


def not_seated(rng: Rng) -> Planted:
    """The detent was not seated: the fence is out by 0.005 to 0.03."""
    fence, keeper = LAYOUTS[rng.integers(4)]
    sled, out = Sled(fence, keeper), float(rng.choice([-1.0, 1.0]) * rng.uniform(0.005, 0.03))
    sled.make_tight(out)
    strip, jaws = sled.five_cuts(seats=rng.normal(0.0, 1e-4, 5).tolist(), strip=2.0), caliper(rng)
    typed = reads(jaws, "fence_end", strip.fence_end, 2) + reads(jaws, "free_end", strip.free_end, 2)
    one = Simulated("five-cut", [*typed, f"length={strip.length * INCH:.1f}mm"], {}, {"fence": fence, "keeper": keeper})
    taper = abs(strip.free_end - strip.fence_end)
    return Planted(said(one), taper > 0.26 or taper > 4.1 * 0.01 * strip.length)


def flipped(rng: Rng, tight: float, taper: float, mark: str = "under") -> tuple[Simulated, float, float]:
    """A board cut in two, the offcut rolled over: the run, the gap and the difference of the widths, mm."""
    fence, keeper = LAYOUTS[rng.integers(4)]
    sled = Sled(fence, keeper)
    sled.make_tight(tight)
    pair = cut_in_two(sled, rng.uniform(4.5, 7.5), 20.0, taper, rng.normal(0.0, 1e-4))
    jaws, pack, long = caliper(rng), feelers(rng), rule(rng)
    typed = reads(jaws, "board@keeper", pair.keeper_width, 2) + reads(jaws, "board@offcut", pair.offcut_width, 2)
    gap = feel(pack, pair.gap * INCH)
    typed += [f"gap={gap}", f"where={'none' if gap == '0' else pair.where}", f"mark={mark}"]
    typed += reads(long, "apart", pair.apart)
    own = [replace(known(rng, kind, shown), range_mm=None) for kind, shown in (("caliper", jaws), ("feelers", pack))]
    one = Simulated("flip", typed, {}, {"fence": fence, "keeper": keeper}, procedure(rng, 1e-4), own)
    return one, pair.gap * INCH, (pair.offcut_width - pair.keeper_width) * INCH


def tapered_board(rng: Rng) -> Planted:
    """The board was not ripped parallel."""
    one, _, wider = flipped(rng, rng.uniform(-1e-3, 1e-3), rng.uniform(-1e-3, 1e-3))
    return Planted(said(one), abs(wider) > 0.003 * INCH + differ(CALIPER_SD, 2.0))


def wrong_edges(rng: Rng) -> Planted:
    """The detent was not seated."""
    one, gap, _ = flipped(rng, float(rng.choice([-1.0, 1.0]) * rng.uniform(0.005, 0.03)), 0.0)
    width = min(mm(one.typed[i]) for i in places(one.typed, "board"))
    return Planted(said(one), gap > 0.02 * width + 2.0 * FEELER_SD)


def mark_up(_rng: Rng, one: Simulated) -> Changed:
    """The offcut was pushed back as it lay."""
    return retyped(one, mark="up", gap="0", where="none"), True


def gap_moved(rng: Rng, one: Simulated) -> Changed:
    """Between two readings of the gap the pieces moved, or fuzz got in."""
    at = places(one.typed, "gap")
    least = {"flip": 0.003, "detent-angle": 0.004}[one.check] * INCH
    by = rng.uniform(0.0, 0.02) * INCH
    text = f"gap={mm(one.typed[at[-1]]) + by:.4f}mm" if one.typed[at[-1]] != "gap=0" else ""
    if not text:
        return one, False
    return replace(one, typed=[text if i == at[-1] else t for i, t in enumerate(one.typed)]), by > least + differ(
        FEELER_SD
    )


def stands_out(rng: Rng) -> Planted:
    """A dent, a chip, a bump at one of the five places, or one gap misread there."""
    bow, where = rng.uniform(-0.3, 0.3), int(rng.integers(5))
    by = rng.choice([-1.0, 1.0]) * rng.uniform(0.0, 0.05) * INCH
    pack, edge = feelers(rng), Straightedge(hollow(0.0, LONG), LONG)

    def face(x: float) -> float:
        return hollow(bow, LONG)(x) + (by if abs(x - AT[where]) < 5.0 else 0.0)

    gaps = edge.gaps(face, AT)
    typed = [f"gap@{x}mm={feel(pack, g)}" for x, g in zip(AT, gaps, strict=True)] + ["edge_limit=0.02mm"]
    one = Simulated(
        "fence-straight", typed, {}, scatter=procedure(rng, 0.01), instruments=[known(rng, "feelers", pack)]
    )
    left = np.array(gaps) - np.polyval(np.polyfit(AT, gaps, 2), AT)
    return Planted(said(one), bool(np.abs(left).max() > 0.003 * INCH + 2.0 * FEELER_SD))


def lopsided(rng: Rng) -> Planted:
    """A straightedge that is worn on one half, by up to 0.02 in; read as it lies and turned end for end."""
    worn, bow, pack = rng.uniform(0.0, 0.02) * INCH, rng.uniform(-0.3, 0.3), feelers(rng)

    def own(x: float) -> float:
        return worn * math.sin(2.0 * math.pi * x / LONG) if x < LONG / 2.0 else 0.0

    edge, face = Straightedge(own, LONG), hollow(bow, LONG)
    both = edge.gaps(face, AT), edge.gaps(face, AT, turned=True)
    typed = [f"{n}@{x}mm={feel(pack, g)}" for n, gaps in zip(("gap", "turned"), both, strict=True)
             for x, g in zip(AT, gaps, strict=True)]  # fmt: skip
    one = Simulated("fence-straight", [*typed, "edge_limit=0.6mm"], {}, instruments=[known(rng, "feelers", pack)])
    halves = [abs(a - b) / 2.0 for a, b in zip(*both, strict=True)]
    return Planted(said(one), max(halves) > 0.003 * INCH + differ(FEELER_SD) / 2.0)


def chip_below(rng: Rng, one: Simulated) -> Changed:
    """The straightedge lies on chips and touches nowhere."""
    by = rng.uniform(0.0, 0.012) * INCH
    at = places(one.typed, "gap")
    least = min(_read(one.typed[i]) for i in at)
    typed = [f"{name_of(t)}={_read(t) + by:.4f}mm" if i in at else t for i, t in enumerate(one.typed)]
    return replace(one, typed=typed), by + least > 0.003 * INCH + 2.0 * FEELER_SD


def _read(text: str) -> float:
    return 0.0 if text.endswith("=0") else mm(text)


def faces_run_together(rng: Rng) -> Planted:
    """A block that is thicker at its top by up to 0.02."""
    out = rng.uniform(-0.02, 0.02)
    one, height, _, _ = stood(rng, out, 0.0)
    return Planted(said(one), abs(out) * height > 0.005 * height + differ(CALIPER_SD, 2.0))


def stood_on_a_chip(rng: Rng) -> Planted:
    """The first time the block stands on a chip: it leans by up to 0.06."""
    one, height, first, turned = stood(rng, 0.0, float(rng.uniform(-0.06, 0.06)))
    return Planted(said(one), abs(first - turned) / 2.0 > 0.01 * height + 2.0 * FEELER_SD)


def stood(rng: Rng, faces: float, chip: float) -> tuple[Simulated, float, float, float]:
    """A block at the fence and turned about: the run, its height and both gaps with their sign (top plus), mm."""
    high, thick, face = rng.uniform(2.8, 4.0), rng.uniform(1.4, 2.5), Face(rng.uniform(-2e-3, 2e-3))
    block = Block([(0.0, 0.0), (thick, 0.0), (thick, 5.0), (-faces * 5, 5.0)])
    jaws, pack = caliper(rng), feelers(rng)
    typed = reads(jaws, "block@bottom", block.thickness(0.1), 2) + reads(jaws, "block@top", block.thickness(high), 2)
    typed.append(f"height={(high - 0.1) * INCH:.1f}mm")
    gaps = []
    for name, body, stands in (("first", block, Face(face.lean + chip)), ("turned", block.turned_about(), face)):
        top, bottom = body.gaps(stands, 0.1, high)
        typed.append(f"{name}@{'top' if top >= bottom else 'bottom'}={feel(pack, max(top, bottom) * INCH)}")
        gaps.append((top if top >= bottom else -bottom) * INCH)
    own = [replace(known(rng, kind, shown), range_mm=None) for kind, shown in (("caliper", jaws), ("feelers", pack))]
    one = Simulated("fence-upright", typed, {}, {}, procedure(rng, 1e-4), own)
    return one, (high - 0.1) * INCH, gaps[0], gaps[1]


def low_block(rng: Rng, one: Simulated) -> Changed:
    """A block of less than 2 in."""
    high = rng.uniform(0.8, 2.2) * INCH
    return retyped(one, height=f"{high:.1f}mm"), high < 1.98 * INCH


def kinds() -> list[Kind]:
    """Every kind, by check."""
    beyond = "it is more, by twice its scatter, than "
    implausible = "the taper is more than 0.26 in, or stands for more than 0.0102"
    changes = [
        ("another strip read", "five-cut", "ends-disagree", "the ends differ by more than a quarter", another_strip),
        ("offcut not rolled, mark up", "flip", "not-rolled", "always", mark_up),
        ("pieces moved between readings", "flip", "gaps-disagree", f"{beyond}0.003 in", gap_moved),
        ("chips under the straightedge", "fence-straight", "lifted", f"{beyond}0.003 in", chip_below),
        ("low block", "fence-upright", "low-block", "it is lower than 2 in", low_block),
    ]
    plants = [
        ("wrong turn of the panel, first run", "five-cut", "taper-implausible", implausible, wrong_turn),
        ("detent not seated", "five-cut", "taper-implausible", implausible, not_seated),
        (
            "detent not seated",
            "flip",
            "gap-implausible unexpected-size",
            "the gap stands for more than 0.01",
            wrong_edges,
        ),
        ("board not parallel", "flip", "not-parallel", f"{beyond}0.003 in", tapered_board),
        ("a chip, a dent, a gap misread", "fence-straight", "wavy", f"{beyond}0.003 in beside a bow", stands_out),
        ("lopsided straightedge", "fence-straight", "lopsided-straightedge", f"{beyond}0.003 in", lopsided),
        (
            "block not parallel",
            "fence-upright",
            "faces-not-parallel",
            f"{beyond}0.005 of its height",
            faces_run_together,
        ),
        ("block on a chip", "fence-upright", "block-out", f"{beyond}0.01 of its height", stood_on_a_chip),
    ]
    made = [Kind(a, where, frozenset(code.split()), s, changed_world(where, c)) for a, where, code, s, c in changes]
    return made + [Kind(a, where, frozenset(code.split()), s, p) for a, where, code, s, p in plants]
