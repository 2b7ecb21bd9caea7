"""An invented light saw and sled, for the tests of support: all its figures, in inches and pounds."""

from trued.plan.support.support import Blade, Ground, Piece, Side, Sled, SledCut

INCH = 25.4
POUND = 0.45359237
LB_FT3 = POUND / 0.3048**3

TABLE = Ground(keeper_mm=11 * INCH, offcut_mm=22.75 * INCH, operator_mm=11.5 * INCH, far_mm=10.5 * INCH)
BLADE = Blade(radius_mm=4.75 * INCH, height_mm=2.85 * INCH)
SLED = Sled(
    mass_kg=9 * POUND,
    keeper_mm=20 * INCH,
    depth_mm=18 * INCH,
    base_mm=0.5 * INCH,
    centre_mm=9 * INCH,
    crosscut_mm=14 * INCH,
    fence=Side.FAR,
)


def board(length: float, width: float, thickness: float, lb_ft3: float, keeper: float) -> Piece:
    return Piece(length * INCH, width * INCH, thickness * INCH, lb_ft3 * LB_FT3, keeper * INCH)


MAPLE = board(48, 5.5, 0.75, 44, keeper=40)
SHELF = board(14, 3.5, 0.742, 26, keeper=13.375)


def cut(piece: Piece, **more: object) -> SledCut:
    return SledCut(TABLE, BLADE, SLED, piece, **more)  # type: ignore[arg-type]
