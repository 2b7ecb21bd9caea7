"""The plain values of a sled cut cannot be built wrong, and know where they lie."""

from typing import Any

import pytest
from tests.plan.sled_s import INCH, SHELF, SLED, TABLE, board, cut

from trued.errors import InputRefused
from trued.plan.support.sled_cut import Blade, Extension, Piece, Side, Sled
from trued.plan.support.statics import Ground

SLED_FACTS: dict[str, Any] = {
    "mass_kg": 4,
    "keeper_mm": 500,
    "depth_mm": 450,
    "base_mm": 12,
    "centre_mm": 230,
    "crosscut_mm": 350,
    "fence": Side.FAR,
}


@pytest.mark.parametrize(
    ("fact", "value"),
    [
        ("mass_kg", 0),
        ("keeper_mm", float("nan")),
        ("depth_mm", -1),
        ("base_mm", 0),
        ("crosscut_mm", 451),
        ("centre_mm", 501),
        ("centre_mm", -1),
        ("centre_along_mm", 451),
        ("centre_along_mm", -1),
        ("offcut_mm", -1),
        ("fence", Side.KEEPER),
    ],
)
def test_a_sled_cannot_be_built_wrong(fact: str, value: Any) -> None:
    with pytest.raises(InputRefused) as refused:
        Sled(**{**SLED_FACTS, fact: value})
    assert fact in {fault.where for fault in refused.value.faults}


def test_all_faults_of_a_piece_at_once() -> None:
    with pytest.raises(InputRefused) as refused:
        Piece(length_mm=100, width_mm=0, thickness_mm=-1, density_kg_m3=0, keeper_mm=200)
    assert {fault.where for fault in refused.value.faults} == {
        "width_mm",
        "thickness_mm",
        "density_kg_m3",
        "keeper_mm",
    }


@pytest.mark.parametrize(("radius", "height"), [(0, 10), (100, 0), (100, 100), (float("inf"), 10)])
def test_a_blade_cannot_be_built_wrong(radius: float, height: float) -> None:
    with pytest.raises(InputRefused):
        Blade(radius, height)


def test_a_blade_that_does_not_come_through_is_refused() -> None:
    with pytest.raises(InputRefused, match=r"more than 88\.9 mm"):
        cut(board(14, 3.5, 3.0, 26, keeper=13))


def test_a_start_beyond_the_blade_is_refused() -> None:
    with pytest.raises(InputRefused, match="0 or more from the blade"):
        cut(SHELF, clear_mm=-1)


def test_the_blades_length_in_a_plane() -> None:
    """By hand, a 3-4-5 triangle: radius 50, height 20, so the arbor is 30 under the table: half-length 40 there."""
    assert Blade(50, 20).reach_mm(0) == pytest.approx(40)
    assert Blade(50, 20).reach_mm(10) == pytest.approx(30)


@pytest.mark.parametrize(
    ("side", "along", "expected"),
    [
        (Side.KEEPER, None, Ground(15, -11, 5, 4)),
        (Side.KEEPER, (-2, 3), Ground(15, -11, 3, 2)),
        (Side.OFFCUT, None, Ground(-20, 24, 5, 4)),
        (Side.OPERATOR, None, Ground(11, 20, 9, -5)),
        (Side.OPERATOR, (0, 6), Ground(6, 0, 9, -5)),
        (Side.FAR, None, Ground(11, 20, -4, 8)),
    ],
)
def test_extensions_lie_beside_the_table(side: Side, along: tuple[float, float] | None, expected: Ground) -> None:
    table = Ground(keeper_mm=11, offcut_mm=20, operator_mm=5, far_mm=4)
    assert Extension(side, 4, along).ground(table) == expected


@pytest.mark.parametrize(("reach", "along"), [(0, None), (5, (3, 3)), (5, (4, 3))])
def test_an_extension_cannot_be_built_wrong(reach: float, along: tuple[float, float] | None) -> None:
    with pytest.raises(InputRefused):
        Extension(Side.KEEPER, reach, along)


def test_every_extension_has_a_name_of_the_trade() -> None:
    assert len({Extension(side, 1).name for side in Side}) == 4


def test_the_base_lies_around_the_fence() -> None:
    far = SLED.base_at(0)
    assert (far.operator_mm / INCH, far.far_mm / INCH) == pytest.approx((14, 4))
    near = Sled(**{**SLED_FACTS, "fence": Side.OPERATOR}).base_at(0)
    assert (near.operator_mm, near.far_mm) == (100, 350)


def test_a_piece_loses_its_tail() -> None:
    assert SHELF.tail_mm == pytest.approx(0.625 * INCH)
    assert SHELF.keeper_alone.tail_mm == 0
    assert SHELF.area_at(100).corners[0] == pytest.approx((-0.625 * INCH, 100))
    assert TABLE.corners[2] == (11 * INCH, 11.5 * INCH)
