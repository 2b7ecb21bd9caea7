"""Tipping against an independent solver of the moment equations.

Statics: a rigid body on supports that only push stays where it is exactly if reactions, all 0 or more, at the corners
of what it rests on can carry its weight at its centre of mass. That is a linear program; scipy's solver decides it.
The twin below works out masses, places and corners from the inputs by itself.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import sqrt
from random import Random

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import sparse
from scipy.optimize import linprog

from trued.plan.support.sled_cut import Blade, Extension, Piece, Side, Sled, SledCut
from trued.plan.support.stages import Stage, StageLoad, moments
from trued.plan.support.statics import Ground

Rect = tuple[float, float, float, float]  # x low, x high, y low, y high


@dataclass(frozen=True, slots=True)
class Pose:
    centre: tuple[float, float]
    base: Rect
    grounds: tuple[Rect, ...]


def pose(cut: SledCut, stage: Stage) -> Pose:
    """The twin: everything from the raw numbers, in its own way."""
    b, s, p, t = cut.blade, cut.sled, cut.piece, cut.table
    low, high = b.radius_mm - b.height_mm + s.base_mm, b.radius_mm - b.height_mm + s.base_mm + p.thickness_mm
    first = sqrt(b.radius_mm**2 - low**2) + cut.clear_mm
    last = sqrt(b.radius_mm**2 - high**2) - p.width_mm
    y0 = {Stage.START: first, Stage.MID: (first + last) / 2}.get(stage, last)
    length = p.keeper_mm if stage is Stage.AFTER else p.length_mm
    work_kg = length * p.width_mm * p.thickness_mm * p.density_kg_m3 / 1e9
    behind = s.crosscut_mm if s.fence is Side.FAR else p.width_mm - s.crosscut_mm + s.depth_mm
    top = y0 + behind
    sled_y = top - s.depth_mm / 2
    total = s.mass_kg + work_kg
    x = (s.mass_kg * s.centre_mm + work_kg * (p.keeper_mm - length / 2)) / total
    y = (s.mass_kg * sled_y + work_kg * (y0 + p.width_mm / 2)) / total
    grounds: list[Rect] = [(-t.offcut_mm, t.keeper_mm, -t.far_mm, t.operator_mm)]
    for wing in cut.extensions:
        assert wing.side is Side.KEEPER and wing.along_mm is not None
        grounds.append((t.keeper_mm, t.keeper_mm + wing.reach_mm, *wing.along_mm))
    return Pose((x, y), (-s.offcut_mm, s.keeper_mm, top - s.depth_mm, top), tuple(grounds))


def stay(poses: Sequence[Pose]) -> list[bool]:
    """Can pushes at the corners of the resting rectangles carry the weight? (Weight 1, places in metres.)

    All cases are one program: what each one's pushes leave over of its three equations is as little as can be, and the
    sum of all is least exactly where each is, for they share nothing.
    """
    blocks = [_equations(pose) for pose in poses]
    pushes = sum(block.shape[1] for block in blocks)
    left = sparse.eye_array(3 * len(poses))
    matrix = sparse.hstack([sparse.block_diag(blocks), left, -left])
    wanted = np.array([value for at in poses for value in (1.0, at.centre[0] / 1000, at.centre[1] / 1000)])
    cost = np.concatenate([np.zeros(pushes), np.ones(6 * len(poses))])
    solved = linprog(cost, A_eq=matrix, b_eq=wanted, bounds=(0, None))  # type: ignore[call-overload] # takes sparse too
    assert solved.status == 0
    over = solved.x[pushes:].reshape(2, len(poses), 3).sum(axis=(0, 2))
    return [bool(rest < 1e-6) for rest in over]


def _equations(at: Pose) -> NDArray[np.float64]:
    """Sum of the pushes and their two moments, a column a corner; without corners one push of nought."""
    corners = []
    for ground in at.grounds:
        x0, x1 = max(ground[0], at.base[0]), min(ground[1], at.base[1])
        y0, y1 = max(ground[2], at.base[2]), min(ground[3], at.base[3])
        if x0 < x1 and y0 < y1:
            corners += [(x0, y0), (x0, y1), (x1, y0), (x1, y1)]
    if not corners:
        return np.zeros((3, 1))
    xs, ys = np.array(corners).T
    return np.vstack([np.ones(len(corners)), xs / 1000, ys / 1000])


def drawn(random: Random) -> SledCut:
    """A saw, sled and piece of any shop; half of them with a wing that does not reach along the whole table."""
    table = Ground(
        random.uniform(150, 450), random.uniform(100, 600), random.uniform(200, 350), random.uniform(150, 350)
    )
    depth = random.uniform(300, 550)
    keeper = random.uniform(250, 700)
    sled = Sled(
        mass_kg=random.uniform(2, 8),
        keeper_mm=keeper,
        depth_mm=depth,
        base_mm=random.uniform(6, 18),
        centre_mm=random.uniform(0.2, 0.8) * keeper,
        crosscut_mm=random.uniform(0.6, 0.9) * depth,
        fence=random.choice((Side.FAR, Side.OPERATOR)),
        offcut_mm=random.choice((0.0, random.uniform(50, 400))),
    )
    keeper_length = random.uniform(150, 1300)
    piece = Piece(
        length_mm=keeper_length + random.uniform(0, 600),
        width_mm=random.uniform(30, 350),
        thickness_mm=random.uniform(10, 40),
        density_kg_m3=random.uniform(350, 800),
        keeper_mm=keeper_length,
    )
    wing = Extension(
        Side.KEEPER,
        random.uniform(80, 400),
        (random.uniform(-150, -50), random.uniform(50, 190)),
        load_tested=True,
    )
    wings = (wing,) if random.random() < 0.5 else ()
    return SledCut(table, Blade(127, random.uniform(60, 79)), sled, piece, wings, clear_mm=random.uniform(0, 50))


def near_the_edge(cut: SledCut, stage: Stage, random: Random) -> SledCut:
    """The same with the table's edge moved to within 25 mm of the centre of mass at that stage."""
    x, y = pose(cut, stage).centre
    t, off = cut.table, random.uniform(-25, 25)
    if random.random() < 0.5 and x + off > -t.offcut_mm + 50:
        return replace(cut, table=Ground(x + off, t.offcut_mm, t.operator_mm, t.far_mm), extensions=())
    return replace(cut, table=Ground(t.keeper_mm, t.offcut_mm, max(y + off, 20 - t.far_mm), t.far_mm), extensions=())


def test_tips_exactly_where_no_pushing_reactions_exist() -> None:
    """1,000 cases: at least 300 tip, 300 do not, 200 within 2 to 20 mm; those nearer than 2 mm are left out."""
    random = Random(20)
    stages = (Stage.START, Stage.MID, Stage.BEFORE, Stage.AFTER)
    found: list[tuple[SledCut, StageLoad]] = []
    twins: list[Pose] = []
    while len(found) < 1000:
        index = random.randrange(4)
        case = drawn(random)
        if random.random() < 0.4:
            case = near_the_edge(case, stages[index], random)
        moment = moments(case)[index]
        if abs(moment.margin_mm) < 2:
            continue
        found.append((case, moment))
        twins.append(pose(case, stages[index]))
        assert moment.centre == pytest.approx(twins[-1].centre, abs=1e-6)
    held = stay(twins)
    for (case, moment), holds in zip(found, held, strict=True):
        assert (moment.margin_mm > 0) == holds, (case, moment)
    near = sum(abs(moment.margin_mm) <= 20 for _, moment in found)
    assert held.count(False) >= 300 and held.count(True) >= 300 and near >= 200, (held.count(True), near)
