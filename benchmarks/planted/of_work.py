"""Blunders of the checks of sight line, boxes and support. One run each."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from benchmarks.planted.kind import Kind, Planted
from benchmarks.planted.typed import (
    CALIPER_SD,
    TAPE_SD,
    Changed,
    Rng,
    changed_world,
    differ,
    exchanged,
    places,
    retyped,
    said,
    told,
)
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH, known, reads
from tests.worlds.box import Box
from tests.worlds.measuring import caliper, tape
from tests.worlds.sight import Blade, Sight


def sighted(rng: Rng, line: float, kerfs: float = 0.0) -> tuple[Simulated, float, float]:
    """A line that stands `line` and so many kerfs from the keeper-side edge: the run, what is left and the kerf, mm."""
    keeper, jaws = str(rng.choice(["left", "right"])), caliper(rng)
    blade = Blade(rng.uniform(0.09, 0.13), rng.uniform(0.06, 0.085), str(rng.choice(["left", "right"])))
    sight = Sight(blade, keeper, 0.0, 0.05)
    sight.set_line()
    k = -1.0 if keeper == "left" else 1.0
    sight.line -= k * (line + kerfs * blade.kerf)  # toward the offcut
    typed, lefts = [], []
    for mark in (4.0, 4.5, 5.0):
        length = sight.cut(mark, rng.normal(0.0, 0.004))
        lefts.append((length - mark) * INCH)
        typed += reads(jaws, "to_mark", mark) + reads(jaws, "to_cut", length)
    facts = {"keeper": keeper, "above": "0.05in", "marked": f"{blade.kerf:.6f}in"}
    one = Simulated("sight-line", typed, {}, facts, instruments=[known(rng, "caliper", jaws)])
    return one, float(np.mean(lefts)), blade.kerf * INCH


def wrong_side(rng: Rng) -> Planted:
    """The line is set to the offcut side's edge of the kerf."""
    one, left, kerf = sighted(rng, rng.uniform(-0.012, 0.012), 1.0)
    return Planted(said(one), abs(-left - kerf) < 0.010 * INCH)


def pencil(rng: Rng) -> Planted:
    """The pencil line is left in one place and split in another."""
    one, left, _ = sighted(rng, rng.uniform(-0.02, 0.02))
    shows = 0.0075 * INCH < abs(left) < 0.0125 * INCH
    return Planted(said(retyped(one, mark_with="pencil")), shows)


def narrow_facing(rng: Rng, one: Simulated) -> Changed:
    """The kerf of the facing was read with jaws that did not go in."""
    kerf, by = float(one.facts["marked"].removesuffix("in")) * INCH, rng.uniform(0.0, 0.05) * INCH
    read = [f"facing_kerf={kerf - by + rng.normal(0.0, CALIPER_SD):.2f}mm" for _ in range(2)]
    left = [t for t in one.typed if not t.startswith("facing_kerf")]
    return replace(one, typed=[*left, *read]), by > 0.010 * INCH + differ(CALIPER_SD, 2.0)


def boxed(rng: Rng, box: Box, diagonals: tuple[float, float]) -> Simulated:
    """A box as it is read with one tape: each diagonal twice, each side once."""
    long = tape(rng)
    typed = [*reads(long, "diagonal_1", diagonals[0], 2), *reads(long, "diagonal_2", diagonals[1], 2)]
    for name, side in zip(("width", "height", "other_width", "other_height"), (box.ab, box.da, box.cd, box.bc),
                          strict=True):  # fmt: skip
        typed += reads(long, name, side)
    return Simulated("diagonals", typed, {}, instruments=[replace(known(rng, "tape", long), resolution=long.step)])


def trapezoid(rng: Rng) -> Planted:
    """Two opposite sides differ: a trapezoid has equal diagonals too."""
    (width, height), by = rng.uniform(12.0, 40.0, 2), rng.uniform(0.0, 0.4)
    box = Box(width, height, width - by, height, math.pi / 2 - rng.uniform(0.0, 0.002))
    return Planted(said(boxed(rng, box, box.diagonals())), by * INCH > INCH / 32 + differ(TAPE_SD))


def mixed(rng: Rng) -> Planted:
    """The sides were measured outside, both diagonals from inside to inside."""
    (width, height), thick = rng.uniform(12.0, 40.0, 2), rng.uniform(0.0, 0.8)
    box = Box(width, height, width, height, math.pi / 2 - rng.uniform(-0.002, 0.002))
    inside = Box(width - 2 * thick, height - 2 * thick, width - 2 * thick, height - 2 * thick, box.angle)
    short = (sum(box.diagonals()) - sum(inside.diagonals())) / 2.0 * INCH
    room = INCH / 32 + 2.0 * TAPE_SD * math.sqrt(0.25 + 0.5)  # mean of four readings against sides of two
    return Planted(said(boxed(rng, box, inside.diagonals())), short > room)


def one_inside(rng: Rng) -> Planted:
    """One diagonal from an outside corner to an inside one."""
    (width, height), thick = rng.uniform(12.0, 40.0, 2), float(rng.choice([0.5, 0.75, 1.0]))
    box = Box(width, height, width, height, math.pi / 2 - rng.uniform(-0.002, 0.002))
    one, two = box.diagonals()
    a, _, c, _ = box.corners()
    spoilt = math.dist(a, (c[0] - thick, c[1] - thick))
    run = told(boxed(rng, box, (spoilt, two)), thickness=f"{thick}in")
    return Planted(said(run), abs(one - two) < 1 / 32)


def tips_after_all(rng: Rng, one: Simulated) -> Changed:
    """It tipped when it was let go, although the scale says that it stands."""
    return retyped(one, **{f"tipped@{rng.choice(['start', 'end'])}": "yes"}), one.truth["support-margin"] > 3.0 * INCH


def gives_after_all(rng: Rng, one: Simulated) -> Changed:
    """It gave way to a light press, although the scale says that it stands."""
    return retyped(one, **{f"gave@{rng.choice(['start', 'end'])}": "yes"}), one.truth["support-margin"] > 4.0 * INCH


def foot_up(rng: Rng, one: Simulated) -> Changed:
    """A foot of the saw lifted."""
    return retyped(one, **{f"foot_lifted@{rng.choice(['start', 'end'])}": "yes"}), True


def weights_exchanged(rng: Rng, one: Simulated) -> Changed:
    """Everything, and what the batten on the scale carries, changed over."""
    end = rng.choice(["start", "end"])
    held, weight = (
        float(one.typed[places(one.typed, f"{name}@{end}")[0]].partition("=")[2].removesuffix("kg"))
        for name in ("held", "weight")
    )
    return exchanged(one, f"held@{end}", f"weight@{end}"), weight - held > 0.1


def kinds() -> list[Kind]:
    """Every kind, by check."""
    beyond = "it is more, by twice its scatter, than "
    changes = [
        ("jaws that do not go in", "sight-line", "narrow-facing", f"{beyond}0.010 in", narrow_facing),
        ("tips after all", "support", "tips", "the margin is more than 3 in", tips_after_all),
        ("gives way after all", "support", "gives", "the margin is more than 4 in", gives_after_all),
        ("a foot lifted", "support", "foot-lifted", "always", foot_up),
        ("weights changed over", "support", "more-than-all", "they differ by more than 0.1 kg", weights_exchanged),
    ]
    plants = [
        ("line at the wrong side", "sight-line", "wrong-side", "what is short is a kerf, to 0.010 in", wrong_side),
        ("leaving and splitting a pencil line", "sight-line", "pencil-width", "it is 0.0075 to 0.0125 in", pencil),
        ("opposite sides unequal", "diagonals", "opposite-sides burned-inch", f"{beyond}1/32 in", trapezoid),
        ("inside mixed with outside", "diagonals", "does-not-close burned-inch", f"{beyond}1/32 in", mixed),
        ("one corner inside", "diagonals", "one-inside", "the box itself is racked by less than 1/32 in", one_inside),
    ]
    made = [Kind(a, where, frozenset(code.split()), s, changed_world(where, c)) for a, where, code, s, c in changes]
    return made + [Kind(a, where, frozenset(code.split()), s, p) for a, where, code, s, p in plants]
