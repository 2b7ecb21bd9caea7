"""Blunders of the checks of instruments, stock, stops and work. One run each."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from benchmarks.planted.kind import Kind, Planted
from benchmarks.planted.typed import (
    CALIPER_SD,
    TAPE_SD,
    Change,
    Plant,
    changed_world,
    differ,
    exchanged,
    mm,
    places,
    retyped,
    said,
    shifted,
    told,
)
from tests.checks.ran import Simulated
from tests.checks.simulated import INCH, known, reads
from tests.worlds.box import Box
from tests.worlds.measuring import caliper, own_scatter, tape
from tests.worlds.sight import Blade, Sight
from tests.worlds.stop import Stop

Changed = tuple[Simulated, bool]
Rng = np.random.Generator
NAMES = (12.7, 19.05, 25.4, 12.0, 18.0)  # mm: what boards are called


def either(rng: Rng) -> float:
    """One way or the other."""
    return float(rng.choice([-1.0, 1.0]))


# --- the caliper itself


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


# --- dado, stock


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


# --- ripping


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


# --- sight line


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


# --- boxes


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


# --- support


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


# --- kerf


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


# --- the stop


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
    beyond = "more than what is usual (given) and twice the scatter of the difference that shows it: "
    changes = [
        ("light between the jaws", "caliper", "light-in-jaws", "always", light_between),
        ("edge that gives way", "caliper", "crushed-edge", "over the series it is nine times the scatter", crushed),
        ("zero not set", "caliper", "not-zeroed", f"{beyond}0.0005 in", not_zeroed),
        ("dirt between the jaws once", "caliper", "zero-wanders", f"{beyond}0.001 in", wanders),
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
        ("jaws that do not go in", "sight-line", "narrow-facing", f"{beyond}0.010 in", narrow_facing),
        ("tips after all", "support", "tips", "the margin is more than 3 in", tips_after_all),
        ("gives way after all", "support", "gives", "the margin is more than 4 in", gives_after_all),
        ("a foot lifted", "support", "foot-lifted", "always", foot_up),
        ("weights changed over", "support", "more-than-all", "they differ by more than 0.1 kg", weights_exchanged),
        ("piece of another board", "kerf", "no-kerf burned-inch unit-slip", "no kerf is left, by 0.1 mm", longer_piece),
        ("whole read too short", "kerf", "under-plate", "less than the plate is left, and reading", below_plate),
        ("wobble", "kerf", "wobble over-marked", f"{beyond}0.010 in", board_moved(0.0, 0.02, 0.010)),
        ("board moved in the cut", "kerf", "over-marked", f"{beyond}0.020 in", board_moved(0.0, 0.08, 0.020)),
        ("stop seats itself", "stop-repeat", "first-part drifting", "it is ten times the scatter of one", seats_itself),
    ]
    made = [Kind(a, where, frozenset(code.split()), s, changed_world(where, c)) for a, where, code, s, c in changes]
    far = "the offset is 25 times what a setting of this stop scatters"
    plants = [
        ("fence that creeps", "rip-parallel", "fence-creeps", "over eight strips it is eight times", fence_creeps),
        ("line at the wrong side", "sight-line", "wrong-side", "what is short is a kerf, to 0.010 in", wrong_side),
        ("leaving and splitting a pencil line", "sight-line", "pencil-width", "it is 0.0075 to 0.0125 in", pencil),
        ("opposite sides unequal", "diagonals", "opposite-sides burned-inch", f"{beyond}1/32 in", trapezoid),
        ("inside mixed with outside", "diagonals", "does-not-close burned-inch", f"{beyond}1/32 in", mixed),
        ("one corner inside", "diagonals", "one-inside", "the box itself is racked by less than 1/32 in", one_inside),
        ("written offset left out", "stop-scale", "offset-left-out", far, written(1.0)),
        ("written offset, wrong sign", "stop-scale", "offset-sign", far, written(2.0)),
        ("written offset twice", "stop-scale", "offset-twice", far, written(-1.0)),
    ]
    return made + [Kind(a, where, frozenset(code.split()), s, p) for a, where, code, s, p in plants]
