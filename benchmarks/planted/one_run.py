"""Blunders that one run by itself can show, planted in the simulated runs of the checks.

Whether the readings can show a blunder is said by rules that know the truth and nothing of the product.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

import numpy as np
from benchmarks.planted.kind import Kind, Planted
from benchmarks.planted.typed import CALIPER_SD, WORLDS, changed, differ, lengths, mm, name_of, said
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH, known, procedure, reads
from tests.worlds.measuring import caliper, rule
from tests.worlds.polygon import Polygon, chord
from tests.worlds.sled import LAYOUTS, Sled

# --- inch typed as millimetre

UNIT_CHECKS = (
    *("caliper", "dado", "detent-angle", "diagonals", "fence-upright", "five-cut", "flip", "kerf", "knife"),
    *("rip-parallel", "sight-line", "stock", "stop-repeat", "stop-scale", "support", "tilt-45"),
)
ALIKE = {"knife": ("knife", "plate", "kerf")}  # of its readings only these are about of one size
BURRS = ("five-cut", "flip", "fence-upright", "kerf", "tilt-45")
SHOWN = (
    *("caliper", "dado", "detent-angle", "fence-upright", "five-cut", "flip", "kerf", "knife", "rip-parallel"),
    *("sight-line", "stock", "stop-repeat", "stop-scale", "tilt-45"),
)
ANY, LEAST = ("caliper", "rule", "tape"), 1.0  # mm: smaller readings may stand in any proportion


def unit_slip(check: str) -> Callable[[np.random.Generator], Planted]:
    """One length typed in the other unit; it shows beside any other of about its size."""

    def plant(rng: np.random.Generator) -> Planted:
        one = WORLDS[check](rng)
        mine = [i for i in lengths(one.typed, check, ANY) if mm(one.typed[i]) > LEAST]
        if not mine:
            return Planted(frozenset(), False)
        at = int(rng.choice(mine))
        mates = [i for i in mine if i != at and abs(mm(one.typed[i]) / mm(one.typed[at]) - 1.0) < 0.3]
        mates = [i for i in mates if same_size(check, name_of(one.typed[i]), name_of(one.typed[at]))]
        number = mm(one.typed[at]) / INCH
        return Planted(said(one, changed(one.typed, at, lambda _: number, "{:.4f}mm")), bool(mates))

    return plant


def same_size(check: str, one: str, other: str) -> bool:
    """Whether two readings ought to be of about one size; elsewhere those that are so by chance are counted too."""
    if check not in ALIKE:
        return True
    ask, mate = one.partition("@")[0], other.partition("@")[0]
    return ask == mate or {ask, mate} <= set(ALIKE[check])


# --- burr


def burr(check: str) -> Callable[[np.random.Generator], Planted]:
    """Fuzz of 0.002 to 0.02 in under one reading of a spot that was read twice."""

    def plant(rng: np.random.Generator) -> Planted:
        one, fuzz = WORLDS[check](rng), rng.uniform(0.002, 0.02) * INCH
        names = [text.partition("=")[0] for text in one.typed]
        twice = [i for i in lengths(one.typed, check) if names.count(names[i]) > 1 and names[i] != "thickness"]
        at = int(rng.choice(twice))
        return Planted(said(one, changed(one.typed, at, lambda x: x + fuzz)), fuzz > 0.002 * INCH + differ(CALIPER_SD))

    return plant


# --- a caliper that shows fractions


def fractions(check: str) -> Callable[[np.random.Generator], Planted]:
    """Every caliper reading rounded to 1/128 in and typed as the decimals that stand for it."""

    def plant(rng: np.random.Generator) -> Planted:
        one = WORLDS[check](rng)
        mine = lengths(one.typed, check)
        typed, marks = list(one.typed), set()
        for at in mine:
            marks.add(round(mm(typed[at]) / INCH * 128))
            typed = changed(typed, at, lambda x: round(x / INCH * 128) / 128, "{:.4f}in")
        return Planted(said(one, typed), len(marks) >= 4)

    return plant


# --- burned inch

BURNED = {
    "sight-line": ("to_cut", "to_mark"),
    "stop-scale": ("measured",),
    "stop-repeat": ("part",),
    "diagonals": ("diagonal_1", "diagonal_2"),
    "caliper": ("from_line",),
    "kerf": ("whole", "keeper_piece", "offcut_piece"),
}


def burned_inch(check: str) -> Callable[[np.random.Generator], Planted]:
    """A rule held at its 1 in line: every reading of one thing is an inch too long."""

    def plant(rng: np.random.Generator) -> Planted:
        one = WORLDS[check](rng)
        name = str(rng.choice(BURNED[check]))
        places = sorted({text.partition("=")[0] for text in one.typed if text.partition("=")[0].startswith(name)})
        place = str(rng.choice(places))
        typed = [f"{place}={mm(text) + INCH:.4f}mm" if text.partition("=")[0] == place else text for text in one.typed]
        return Planted(said(one, typed), True)

    return plant


# --- drifting series


def drifting_stop(rng: np.random.Generator) -> Planted:
    """A stop that creeps away a little with every bump; ten parts."""
    jaws, sd = caliper(rng), rng.uniform(0.0005, 0.002) * INCH
    creep = rng.choice([-1.0, 1.0]) * rng.uniform(0.0005, 0.004) * INCH
    parts = [12.0 * INCH + n * creep + rng.normal(0.0, sd) for n in range(10)]
    typed = ["set=12in", *(f"part={jaws.read(part)}" for part in parts)]
    one = Simulated("stop-repeat", typed, {})
    return Planted(said(one, typed), 9.0 * abs(creep) > 6.0 * math.hypot(sd, jaws.sd))


def drifting_detent(rng: np.random.Generator) -> Planted:
    """The stand of the indicator gives way from one engagement to the next; six from either side."""
    one = WORLDS["detent-repeat"](rng)
    creep, n, typed = rng.choice([-1.0, 1.0]) * rng.uniform(0.02, 0.4), 0, []
    for text in one.typed:
        if text.startswith("reach"):
            typed.append(text)
            continue
        typed.append(f"{text.partition('=')[0]}={mm(text) + n * creep:.2f}mm")
        n += 1
    reach = mm(next(text for text in one.typed if text.startswith("reach")))
    both = one.truth["detent-repeat"] / 3.08 * reach + abs(one.truth["detent-backlash"]) * reach / 2.0
    return Planted(said(one, typed), (n - 1) * abs(creep) > 6.0 * both)


# --- first trim left out, bowed strip


def untrimmed(sled: Sled, board: Polygon, along: int, seats: Sequence[float]) -> tuple[list[float], float]:
    """Four cuts, the factory edge going to the fence first: widths at both ends and in the middle, and the length."""
    edge = (board[2], board[2 + along])
    offcut: Polygon = []
    for seat, trim in zip(seats, (0.5, 0.5, 0.5, 1.0), strict=True):
        board, offcut, _ = sled.cut(board, edge, trim, seat)
        edge = next(
            (p, q)
            for p, q in zip(board, [*board[1:], board[0]], strict=True)
            if abs(p[0]) < 1e-9 and abs(q[0]) < 1e-9 and p != q
        )
    ys = [y for _, y in offcut]
    ends = (max(ys) - 0.5, min(ys) + 0.5) if sled.fence == "far" else (min(ys) + 0.5, max(ys) - 0.5)
    spots = (ends[0], (ends[0] + ends[1]) / 2.0, ends[1])
    return [high - low for low, high in (chord(offcut, y) for y in spots)], abs(ends[0] - ends[1])


def first_trim_skipped(rng: np.random.Generator) -> Planted:
    """A factory edge that is bowed outward by up to 0.03 in goes to the fence as it is, and rocks on its belly."""
    fence, keeper = LAYOUTS[rng.integers(4)]
    sled, bow, sigma = Sled(fence, keeper), rng.uniform(0.0, 0.03), rng.uniform(3e-5, 1e-4)
    sled.make_tight(rng.uniform(-1e-3, 1e-3))
    steps = 12
    top = [(14.2 - 14.1 * n / steps, 12.1 + 4 * bow * (n / steps) * (1 - n / steps)) for n in range(steps + 1)]
    board: Polygon = [(0.0, 0.0), (14.3, 0.11), *top]
    rock = rng.uniform(-1.0, 1.0) * 4.0 * bow / 14.0  # it lies on one half of its belly or the other
    seats = rng.normal(0.0, 2.0 * sigma, 4) + np.array([rock, 0.0, 0.0, 0.0])
    (at_fence, middle, free), length = untrimmed(sled, board, steps, seats.tolist())
    jaws, long = caliper(rng), rule(rng)
    typed = reads(jaws, "fence_end", at_fence, 2) + reads(jaws, "free_end", free, 2)
    typed += reads(jaws, "middle", middle, 2) + reads(long, "length", length)
    bulge = abs(middle - (at_fence + free) / 2.0) * INCH
    facts = {"fence": fence, "keeper": keeper}
    one = Simulated("five-cut", typed, {}, facts, procedure(rng, sigma), [known(rng, "caliper", jaws)])
    return Planted(said(one, typed), bulge > 0.003 * INCH + 2.0 * CALIPER_SD)


def bowed_strip(rng: np.random.Generator) -> Planted:
    """A strip that bowed when it came free, by 0.002 to 0.02 in, measured as it lies."""
    one = WORLDS["five-cut"](rng)
    bow = rng.choice([-1.0, 1.0]) * rng.uniform(0.002, 0.02) * INCH
    typed = [f"middle={mm(text) + bow:.2f}mm" if text.startswith("middle") else text for text in one.typed]
    return Planted(said(one, typed), abs(bow) > 0.003 * INCH + 2.0 * CALIPER_SD)


def kinds() -> list[Kind]:
    """Every kind that one run can show, by check."""
    slip, bowed = frozenset({"unit-slip", "unexpected-size", "input-refused"}), frozenset({"bowed-strip"})
    mates = "another reading that ought to be of its size, and is within 30 %, stands beside it"
    two = "the fuzz is more than 0.002 in and twice what two honest readings scatter (0.0048 in in all)"
    four = "four caliper readings or more lie on different marks"
    six = "the creep over the series is more than six times the scatter of one"
    bow = "the middle stands out by more than 0.003 in and twice the caliper's scatter"
    made = [Kind("inch typed as millimetre", check, slip, mates, unit_slip(check)) for check in UNIT_CHECKS]
    made += [Kind("burr", check, frozenset({"burr"}), two, burr(check)) for check in BURRS]
    made += [
        Kind("fraction display", check, frozenset({"fraction-display"}), four, fractions(check)) for check in SHOWN
    ]
    made += [Kind("burned inch", at, frozenset({"burned-inch"}), "always", burned_inch(at)) for at in BURNED]
    return [
        *made,
        Kind("drifting series", "stop-repeat", frozenset({"drifting"}), six, drifting_stop),
        Kind("drifting series", "detent-repeat", frozenset({"drifting"}), six, drifting_detent),
        Kind("first trim skipped", "five-cut", bowed, bow, first_trim_skipped),
        Kind("bowed strip", "five-cut", bowed, bow, bowed_strip),
    ]
