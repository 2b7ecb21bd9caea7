"""Weights on supports: centre of mass, reactions of two supports, how far from tipping, and what press would tip it.

Places are in mm from one origin, the blade plane and the arbor: x grows toward the keeper side, y toward the operator.
Everything is rigid and at rest, and a support can only push. Hand force is never counted as help.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import hypot, isfinite

from trued.errors import Faults, InputRefused

STANDARD_GRAVITY = 9.80665  # m/s², by definition (3rd CGPM, 1901)

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Body:
    """A weight at its centre of mass. mass_kg > 0; x_mm toward the keeper side, y_mm toward the operator."""

    mass_kg: float
    x_mm: float
    y_mm: float = 0.0

    def __post_init__(self) -> None:
        faults = Faults()
        if not (isfinite(self.mass_kg) and self.mass_kg > 0):
            faults.add("mass", f"{self.mass_kg:g} kg", "A mass must be more than 0.")
        if not (isfinite(self.x_mm) and isfinite(self.y_mm)):
            faults.add("centre of mass", f"{self.x_mm:g}, {self.y_mm:g} mm", "The centre of mass must be a number.")
        faults.raise_if_any()


@dataclass(frozen=True, slots=True)
class Ground:
    """A rectangle seen from above (table, wing, base of a sled): how far its four edges lie from the origin, in mm.

    A negative distance means that the edge lies on the other side of the origin: a wing that begins 280 mm to the
    keeper side has offcut_mm = −280.
    """

    keeper_mm: float
    offcut_mm: float
    operator_mm: float
    far_mm: float

    def __post_init__(self) -> None:
        edges = (self.keeper_mm, self.offcut_mm, self.operator_mm, self.far_mm)
        if not (all(map(isfinite, edges)) and self.keeper_mm > -self.offcut_mm and self.operator_mm > -self.far_mm):
            text = "The keeper edge must lie beyond the offcut edge, and the operator's edge beyond the far edge."
            raise InputRefused.of("edges", ", ".join(f"{edge:g}" for edge in edges), text)

    @property
    def corners(self) -> tuple[Point, Point, Point, Point]:
        """The four corners (x, y), in mm."""
        left, right, low, high = -self.offcut_mm, self.keeper_mm, -self.far_mm, self.operator_mm
        return (left, low), (right, low), (right, high), (left, high)

    def margins_mm(self, point: Point) -> "Margins":
        """How far a point lies inside each edge; negative outside."""
        x, y = point
        return Margins(self.keeper_mm - x, self.offcut_mm + x, self.operator_mm - y, self.far_mm + y)

    def shared_with(self, other: "Ground") -> "Ground | None":
        """What both cover, None if they do not overlap."""
        keeper, offcut = min(self.keeper_mm, other.keeper_mm), min(self.offcut_mm, other.offcut_mm)
        operator, far = min(self.operator_mm, other.operator_mm), min(self.far_mm, other.far_mm)
        return Ground(keeper, offcut, operator, far) if keeper > -offcut and operator > -far else None


@dataclass(frozen=True, slots=True)
class Margins:
    """Distances in mm by which a centre of mass lies inside the four edges; negative = beyond the edge."""

    keeper_mm: float
    offcut_mm: float
    operator_mm: float
    far_mm: float

    @property
    def least_mm(self) -> float:
        """The distance to the nearest edge."""
        return min(self.keeper_mm, self.offcut_mm, self.operator_mm, self.far_mm)


@dataclass(frozen=True, slots=True)
class Press:
    """A downward press that would just tip it, in newtons, and the corner where the least press does so."""

    newton: float
    at: Point


def together(bodies: Iterable[Body]) -> Body:
    """Several bodies as one at their common centre of mass."""
    many = tuple(bodies)
    if not many:
        raise InputRefused.of("bodies", "none", "There must be at least one body to weigh.")
    mass = sum(body.mass_kg for body in many)
    x = sum(body.mass_kg * body.x_mm for body in many) / mass
    y = sum(body.mass_kg * body.y_mm for body in many) / mass
    return Body(mass, x, y)


def two_supports(
    bodies: Iterable[Body], first_mm: float, second_mm: float, *, gravity: float = STANDARD_GRAVITY
) -> tuple[float, float]:
    """Upward reactions in newtons of two supports at x = first_mm and x = second_mm.

    A negative reaction is one that would have to pull: a loose body tips off that support.
    """
    if not (isfinite(first_mm) and isfinite(second_mm) and first_mm != second_mm):
        raise InputRefused.of("supports", f"{first_mm:g} and {second_mm:g} mm", "The two supports must be apart.")
    whole = together(bodies)
    share = (whole.x_mm - first_mm) / (second_mm - first_mm)
    weight = whole.mass_kg * gravity
    return weight * (1 - share), weight * share


def outline(points: Iterable[Point]) -> tuple[Point, ...]:
    """The convex outline of points, counter-clockwise (Andrew's monotone chain): what a rigid base rests on."""
    ordered = sorted(set(points))
    return (*_half_outline(ordered)[:-1], *_half_outline(ordered[::-1])[:-1])


def margin_inside_mm(outline_points: Sequence[Point], point: Point) -> float:
    """Distance in mm of a point inside a convex outline to its nearest edge line; negative outside."""
    return min(_inside_mm(edge, point) for edge in _edges(outline_points))


def press_to_tip(weight_n: float, centre: Point, outline_points: Sequence[Point], corners: Iterable[Point]) -> Press:
    """The least downward press at one of the corners that tips the weight over an edge of its support.

    Infinite where no corner hangs over an edge, 0 where it tips by itself.
    """
    where = tuple(corners)
    least = Press(float("inf"), where[0])
    for edge in _edges(outline_points):
        held = max(0.0, weight_n * _inside_mm(edge, centre))
        for corner in where:
            over = -_inside_mm(edge, corner)
            # A hair over is not over: what ends at the edge cannot be pressed down beside it.
            if over > 1e-6 and held / over < least.newton:
                least = Press(held / over, corner)
    return least


def _half_outline(ordered: Sequence[Point]) -> list[Point]:
    half: list[Point] = []
    for point in ordered:
        while len(half) > 1 and _turn(half[-2], half[-1], point) <= 0:
            half.pop()
        half.append(point)
    return half


def _turn(a: Point, b: Point, c: Point) -> float:
    """Twice the area of a, b, c: positive for a turn to the left."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def _edges(points: Sequence[Point]) -> Iterable[tuple[Point, Point]]:
    return zip(points, (*points[1:], points[0]), strict=True)


def _inside_mm(edge: tuple[Point, Point], point: Point) -> float:
    (ax, ay), (bx, by) = edge
    return _turn(edge[0], edge[1], point) / hypot(bx - ax, by - ay)
