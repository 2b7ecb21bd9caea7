"""Every ready-made fit against pieces that are really laid together, point by point, in a world of their own.

With *given* errors, 200 random pieces each: the value agrees to 1 µm, and where a rule was solved to first order to
that and the stated remainder. Errors are drawn far larger than a saw's, so that a lost second order would show.
"""

import math
import random
from collections.abc import Callable, Sequence

import pytest
from tests.worlds import assembly

from trued.job.expression.tree import Constant, PartSize, Side
from trued.job.geometry.assembly_squaring import Squaring
from trued.job.geometry.fit_geometry import Geometry
from trued.job.geometry.kinds.between import BoardBetween, Drawer, Thickness
from trued.job.geometry.kinds.cover import Cover
from trued.job.geometry.kinds.diagonals import Diagonals, diagonals, remainder_mm
from trued.job.geometry.kinds.door import Door
from trued.job.geometry.kinds.expression import expression_of
from trued.job.geometry.kinds.mitres import Mitres
from trued.job.geometry.kinds.stack import GlueUp, Row
from trued.measure.estimate import UncertainValue

MICRON = 1e-3  # mm
PIECES = range(200)
NODE = Constant(0)  # type: ignore[arg-type] # a size that these tests give themselves
PART = PartSize("a", Side.LENGTH)


def at(geometry: Geometry, inputs: Sequence[float]) -> dict[str, float]:
    """What it comes to at every place; of places with one name the least."""
    found: dict[str, float] = {}
    for place in geometry.places([UncertainValue(x) for x in inputs]):
        found[place.name] = min(found.get(place.name, math.inf), place.value.value)
    return found


def many(test: Callable[[random.Random], None]) -> None:
    for number in PIECES:
        test(random.Random(f"{test.__qualname__} {number}"))


def test_a_board_between_two_faces() -> None:
    def one(draw: random.Random) -> None:
        opening, width = draw.uniform(200, 900), draw.uniform(30, 400)
        length = opening - draw.uniform(-3, 3)
        leans = draw.gauss(0, 0.01), draw.gauss(0, 0.01)
        found = at(BoardBetween(NODE, PART, NODE), (opening, length, width, *leans))
        piece = assembly.board(length, width, *leans)
        assert min(found.values()) == pytest.approx(assembly.room_between(opening, piece), abs=MICRON)
        seen = assembly.seen_gaps(opening, piece)
        assert (found["at the reference edge"], found["at the other edge"]) == pytest.approx(seen, abs=MICRON)

    many(one)


def test_a_drawer_between_its_slides() -> None:
    def one(draw: random.Random) -> None:
        face, deep, slide = draw.uniform(200, 900), draw.uniform(300, 600), draw.uniform(10, 15)
        opening = face, face + draw.gauss(0, 2)
        box = tuple(face - 2 * slide - draw.uniform(0, 3) for _ in range(2))
        racked = draw.gauss(0, 0.01)
        found = at(Drawer((NODE, NODE), (NODE, NODE), NODE, NODE), (*opening, *box, slide, deep, racked))
        room = assembly.drawer_room(opening, (box[0], box[1]), slide, deep, racked)
        assert min(found.values()) == pytest.approx(room, abs=MICRON)

    many(one)


@pytest.mark.parametrize("all_round", [False, True])
def test_a_frame_or_lid_laid_over_another(all_round: bool) -> None:
    def one(draw: random.Random) -> None:
        across, up = draw.uniform(200, 900), draw.uniform(200, 900)
        under = across - draw.uniform(0, 5), up - draw.uniform(0, 5)
        laid, leans = (draw.gauss(0, 1), draw.gauss(0, 1)), (draw.gauss(0, 0.01), draw.gauss(0, 0.01))
        found = at(Cover((NODE, NODE), (NODE, NODE), all_round), (across, up, *under, *laid, *leans))
        sideways, upward = assembly.overhangs(
            assembly.frame(across, up, leans[0]), assembly.frame(*under, leans[1]), laid
        )
        expected = {
            "top, one side": sideways["top right"],
            "top, other side": sideways["top left"],
            "bottom, one side": sideways["bottom right"],
            "bottom, other side": sideways["bottom left"],
        }
        expected |= {"at the top": upward[0], "at the bottom": upward[1]} if all_round else {}
        assert found == pytest.approx(expected, abs=MICRON)

    many(one)


def unequal_sides(draw: random.Random) -> tuple[float, float, float, float]:
    bottom, near = draw.uniform(200, 900), draw.uniform(200, 900)
    return bottom, bottom + draw.gauss(0, 0.5), near, near + draw.gauss(0, 0.5)


def test_diagonals_left_to_the_joints() -> None:
    def one(draw: random.Random) -> None:
        bottom, top, near, away = unequal_sides(draw)
        a, b, c, d = wants = [draw.gauss(0, 0.003) for _ in range(4)]
        shape = Diagonals((NODE, NODE), (NODE, NODE), Squaring.JOINTS, (PART, PART))
        (found,) = at(shape, (bottom, top, near, away, (a - b + c - d) / 4)).values()
        largest = max(*(abs(want) for want in wants), abs(top - bottom) / near, abs(away - near) / bottom)
        exact = assembly.settled(bottom, top, near, away, wants)
        assert found == pytest.approx(exact, abs=MICRON + remainder_mm(bottom, near, largest))

    many(one)


def test_diagonals_of_a_frame_that_was_racked() -> None:
    def one(draw: random.Random) -> None:
        bottom, top, near, away = unequal_sides(draw)
        racking = draw.gauss(0, 0.003)
        (found,) = at(
            Diagonals((NODE, NODE), (NODE, NODE), Squaring.CLAMPS), (bottom, top, near, away, racking)
        ).values()
        largest = max(abs(racking), abs(top - bottom) / near, abs(away - near) / bottom)
        exact = assembly.racked(bottom, top, near, away, racking)
        assert found == pytest.approx(exact, abs=MICRON + remainder_mm(bottom, near, largest))

    many(one)


def test_equal_sides_need_no_remainder() -> None:
    def one(draw: random.Random) -> None:
        bottom, near, racking = draw.uniform(200, 900), draw.uniform(200, 900), draw.gauss(0, 0.01)
        first, second = diagonals(*(UncertainValue(x) for x in (bottom, bottom, near, near, racking)))
        exact = assembly.racked(bottom, bottom, near, near, racking)
        assert first.value - second.value == pytest.approx(exact, abs=MICRON)

    many(one)


@pytest.mark.parametrize("sides", [3, 4, 5, 6, 8])
@pytest.mark.parametrize("inside", [True, False])
def test_closing_of_a_mitred_frame(sides: int, inside: bool) -> None:
    def one(draw: random.Random) -> None:
        length, width = draw.uniform(150, 600), draw.uniform(15, 60)
        lengths = [length + draw.gauss(0, 0.5) for _ in range(sides)]
        begins, ends = ([math.pi / sides + draw.gauss(0, 0.005) for _ in range(sides)] for _ in range(2))
        each = [x for side in zip(lengths, begins, ends, strict=True) for x in side]
        (found,) = at(Mitres((PART,) * sides, NODE, inside), (width, *each)).values()
        outer, inner = assembly.mitred(lengths, begins, ends, width)
        assert found == pytest.approx(inner if inside else outer, abs=MICRON)

    for number in range(200 // 5):
        one(random.Random(f"{sides} {inside} {number}"))


def test_mitres_that_are_exact_close() -> None:
    for sides in (3, 4, 6, 8):
        each = [x for _ in range(sides) for x in (300.0, math.pi / sides, math.pi / sides)]
        for inside in (True, False):
            (found,) = at(Mitres((PART,) * sides, NODE, inside), (40.0, *each)).values()
            assert found == pytest.approx(0.0, abs=1e-9)


def test_one_fence_for_both_mitres_counts_eight_times() -> None:
    # Common practice: four sides, two ends each, one fence out by e: the last joint is open by 8 e m at the inside of
    # a frame m wide, seen along the face of the mitre (m / cos 45°).
    width, e = 40.0, 1e-4
    each = [x for _ in range(4) for x in (300.0, math.pi / 4 - e, math.pi / 4 - e)]
    (inner,) = at(Mitres((PART,) * 4, NODE, inside=True), (width, *each)).values()
    (outer,) = at(Mitres((PART,) * 4, NODE, inside=False), (width, *each)).values()
    assert abs(inner - outer) == pytest.approx(8 * e * width * math.sqrt(2), rel=1e-3)


@pytest.mark.parametrize("turned", [False, True])
def test_boards_glued_edge_to_edge(turned: bool) -> None:
    def one(draw: random.Random) -> None:
        deep, wanted = draw.uniform(300, 1200), draw.uniform(200, 500)
        boards = [(draw.uniform(50, 150), draw.gauss(0, 0.005)) for _ in range(draw.randrange(2, 7))]
        shape = GlueUp((NODE,) * len(boards), NODE, NODE, turned)
        found = at(shape, (wanted, deep, *(x for board in boards for x in board)))
        begins, ends = assembly.stacked(boards, deep)
        expected = {"where it begins": begins[1] - wanted, "at the far end": ends[1] - wanted}
        assert found == pytest.approx(expected, abs=MICRON)

    many(one)


def test_a_row_of_slats() -> None:
    def one(draw: random.Random) -> None:
        deep, spacer, taper = draw.uniform(300, 1200), draw.uniform(5, 60), draw.gauss(0, 0.005)
        slats = [draw.uniform(15, 60) for _ in range(draw.randrange(2, 9))]
        wall = sum(slats) + spacer * (len(slats) + 1)
        opening = wall, wall + draw.gauss(0, 2)
        shape = Row((NODE, NODE), (NODE,) * len(slats), NODE, NODE)
        found = at(shape, (*opening, spacer, deep, taper, *slats))
        begins, ends = assembly.stacked([x for slat in slats for x in ((spacer, 0.0), (slat, taper))], deep)
        expected = {"where it begins": opening[0] - begins[1], "at the far end": opening[1] - ends[1]}
        assert found == pytest.approx(expected, abs=MICRON)

    many(one)


@pytest.mark.parametrize("leaves", [1, 2])
@pytest.mark.parametrize("level", [True, False])
def test_a_door_in_its_opening(leaves: int, level: bool) -> None:
    def one(draw: random.Random) -> None:
        bottom, high, hinge = draw.uniform(200, 900), draw.uniform(200, 900), draw.uniform(1, 3)
        opening, lean = (bottom, bottom + draw.gauss(0, 1)), draw.gauss(0, 0.01) if level else 0.0
        door, growth = bottom / leaves - hinge - draw.uniform(1, 3), draw.uniform(-1, 1)
        shape = Door((NODE, NODE), NODE, NODE, leaves, NODE if level else None)
        found = at(shape, (*opening, door, hinge, 0.0, growth, *((high, lean) if level else ())))
        even = opening if level or leaves == 1 else (opening[0], opening[1])
        gaps = assembly.door_gaps(even, high, lean, door + growth, hinge, leaves)
        if leaves == 2 and not level:  # each along its own upright: they part as the opening does
            gaps = tuple(o - 2 * (door + growth + hinge) for o in opening)  # type: ignore[assignment]
        names = ("at the bottom, dampest", "at the top, dampest")
        assert [found[name] for name in names] == pytest.approx(gaps, abs=MICRON)

    many(one)


def test_sums_are_what_they_say() -> None:
    def one(draw: random.Random) -> None:
        dado, thick = draw.uniform(15, 20), draw.uniform(15, 20)
        assert at(Thickness(NODE, NODE), (dado, thick)) == pytest.approx({"": dado - thick}, abs=MICRON)

    many(one)
    assert at(expression_of(PART), (12.0,)) == {"": 12.0}
