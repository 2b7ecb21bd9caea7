"""One crosscut on a sled, as plain values: table, extensions, blade, sled and piece.

Places are in mm from the blade plane (x, toward the keeper side) and the arbor (y, toward the operator).
"""

from dataclasses import dataclass, replace
from enum import StrEnum
from math import isfinite, sqrt

from trued.errors import Faults, InputRefused
from trued.plan.support.statics import Body, Ground


class Side(StrEnum):
    """The four places around the blade."""

    KEEPER = "keeper side"
    OFFCUT = "offcut side"
    OPERATOR = "operator's side"
    FAR = "far side"


@dataclass(frozen=True, slots=True)
class Blade:
    """radius_mm of the blade, height_mm of its highest tooth above the table."""

    radius_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        faults = Faults()
        _need_positive(faults, radius_mm=self.radius_mm, height_mm=self.height_mm)
        faults.raise_if_any()
        if self.height_mm >= self.radius_mm:
            text = "A blade stands less than its radius above the table: its arbor is below."
            raise InputRefused.of("blade height", f"{self.height_mm:g} mm", text)

    def reach_mm(self, above_table_mm: float) -> float:
        """Half the length of blade that stands in a plane this far above the table."""
        from_arbor = self.radius_mm - self.height_mm + above_table_mm
        return sqrt(self.radius_mm**2 - from_arbor**2)


@dataclass(frozen=True, slots=True)
class Sled:
    """A crosscut sled.

    keeper_mm, offcut_mm: how far its base reaches from the blade plane to either side (0: no base on that side).
    depth_mm: base along the travel; base_mm: its thickness; centre_mm: centre of mass to the keeper side of the blade.
    crosscut_mm: from the fence's face to the open edge of the base. fence: Side.FAR or Side.OPERATOR.
    centre_along_mm: centre of mass from the base's operator's edge; None takes the middle.
    """

    mass_kg: float
    keeper_mm: float
    depth_mm: float
    base_mm: float
    centre_mm: float
    crosscut_mm: float
    fence: Side
    offcut_mm: float = 0.0
    centre_along_mm: float | None = None

    def __post_init__(self) -> None:
        faults = Faults()
        _need_positive(
            faults,
            mass_kg=self.mass_kg,
            keeper_mm=self.keeper_mm,
            depth_mm=self.depth_mm,
            base_mm=self.base_mm,
            crosscut_mm=self.crosscut_mm,
        )
        if self.fence not in {Side.FAR, Side.OPERATOR}:
            faults.add("fence", self.fence, "The fence lies on the far side or on your side.")
        if not (isfinite(self.offcut_mm) and self.offcut_mm >= 0):
            faults.add("offcut_mm", f"{self.offcut_mm:g}", "A base reaches 0 or more to the offcut side.")
        if not -self.offcut_mm <= self.centre_mm <= self.keeper_mm:
            faults.add("centre_mm", f"{self.centre_mm:g}", "The sled's centre of mass must lie over its base.")
        if not 0 <= self._centre_along_mm <= self.depth_mm:
            faults.add("centre_along_mm", f"{self.centre_along_mm}", "The centre of mass must lie over the base.")
        if self.crosscut_mm > self.depth_mm:
            faults.add("crosscut_mm", f"{self.crosscut_mm:g}", "The crosscut depth cannot be more than the base's.")
        faults.raise_if_any()

    @property
    def _centre_along_mm(self) -> float:
        return self.depth_mm / 2 if self.centre_along_mm is None else self.centre_along_mm

    def base_at(self, face_mm: float) -> Ground:
        """The base when the fence's face is at y = face_mm."""
        far_fence = self.fence is Side.FAR
        operator = face_mm + self.crosscut_mm if far_fence else face_mm - self.crosscut_mm + self.depth_mm
        return Ground(self.keeper_mm, self.offcut_mm, operator, self.depth_mm - operator)

    def body_at(self, face_mm: float) -> Body:
        """The sled's own weight when the fence's face is at y = face_mm."""
        return Body(self.mass_kg, self.centre_mm, self.base_at(face_mm).operator_mm - self._centre_along_mm)


@dataclass(frozen=True, slots=True)
class Piece:
    """A straight piece of even section lying along the fence; keeper_mm of its length is on the keeper side."""

    length_mm: float
    width_mm: float
    thickness_mm: float
    density_kg_m3: float
    keeper_mm: float

    def __post_init__(self) -> None:
        faults = Faults()
        _need_positive(
            faults,
            length_mm=self.length_mm,
            width_mm=self.width_mm,
            thickness_mm=self.thickness_mm,
            density_kg_m3=self.density_kg_m3,
            keeper_mm=self.keeper_mm,
        )
        if self.keeper_mm > self.length_mm:
            faults.add("keeper_mm", f"{self.keeper_mm:g}", "The keeper cannot be longer than the piece.")
        faults.raise_if_any()

    @property
    def tail_mm(self) -> float:
        """What hangs to the offcut side of the blade."""
        return self.length_mm - self.keeper_mm

    @property
    def keeper_alone(self) -> "Piece":
        """The piece after the offcut has gone."""
        return replace(self, length_mm=self.keeper_mm)

    def area_at(self, far_edge_mm: float) -> Ground:
        """The piece seen from above when its far edge is at y = far_edge_mm."""
        return Ground(self.keeper_mm, self.tail_mm, far_edge_mm + self.width_mm, -far_edge_mm)

    def body_at(self, far_edge_mm: float) -> Body:
        """Its weight when its far edge is at y = far_edge_mm."""
        volume_m3 = self.length_mm * self.width_mm * self.thickness_mm * 1e-9
        centre_mm = (self.keeper_mm - self.tail_mm) / 2
        return Body(volume_m3 * self.density_kg_m3, centre_mm, far_edge_mm + self.width_mm / 2)


@dataclass(frozen=True, slots=True)
class Extension:
    """A wing, stand or outfeed level with the table, from its edge outward by reach_mm.

    along_mm: least and greatest place along that edge (y beside the keeper and offcut side, x otherwise); None = all.
    It counts only if it was load-tested, or if a person typed a reason why not; the reason is shown with the result.
    """

    side: Side
    reach_mm: float
    along_mm: tuple[float, float] | None = None
    load_tested: bool = False
    typed_reason: str = ""

    def __post_init__(self) -> None:
        faults = Faults()
        _need_positive(faults, reach_mm=self.reach_mm)
        if self.along_mm is not None and not self.along_mm[0] < self.along_mm[1]:
            faults.add("along_mm", f"{self.along_mm}", "Give the least place along the edge first.")
        faults.raise_if_any()

    @property
    def counts(self) -> bool:
        """True if its help may be counted."""
        return self.load_tested or bool(self.typed_reason.strip())

    @property
    def name(self) -> str:
        """What the trade calls it."""
        return {
            Side.KEEPER: "wing on the keeper side",
            Side.OFFCUT: "wing on the offcut side",
            Side.OPERATOR: "support on your side",
            Side.FAR: "outfeed support on the far side",
        }[self.side]

    def ground(self, table: Ground) -> Ground:
        """Where it lies, beside this table."""
        t = table
        if self.side in {Side.KEEPER, Side.OFFCUT}:
            low, high = self.along_mm or (-t.far_mm, t.operator_mm)
            if self.side is Side.KEEPER:
                return Ground(t.keeper_mm + self.reach_mm, -t.keeper_mm, high, -low)
            return Ground(-t.offcut_mm, t.offcut_mm + self.reach_mm, high, -low)
        low, high = self.along_mm or (-t.offcut_mm, t.keeper_mm)
        if self.side is Side.OPERATOR:
            return Ground(high, -low, t.operator_mm + self.reach_mm, -t.operator_mm)
        return Ground(high, -low, -t.far_mm, t.far_mm + self.reach_mm)


@dataclass(frozen=True, slots=True)
class SledCut:
    """A piece on a sled on a table.

    clamped: the piece is clamped to the sled, so that both move as one. tail_held: something of the base's height
    holds the tail on the offcut side. maker_forbids: of `sled` and `wing`, what the saw's maker forbids.
    clear_mm: how far the piece is from the blade at the start; more brings the weight nearer to the operator's edge.
    """

    table: Ground
    blade: Blade
    sled: Sled
    piece: Piece
    extensions: tuple[Extension, ...] = ()
    clamped: bool = False
    tail_held: bool = False
    maker_forbids: frozenset[str] = frozenset()
    clear_mm: float = 0.0

    def __post_init__(self) -> None:
        faults = Faults()
        through = self.sled.base_mm + self.piece.thickness_mm
        if through >= self.blade.height_mm:
            text = f"It must stand more than {through:.1f} mm above the table to cut through base and piece."
            faults.add("blade height", f"{self.blade.height_mm:g} mm", text)
        if not (isfinite(self.clear_mm) and self.clear_mm >= 0):
            faults.add("clear_mm", f"{self.clear_mm:g}", "At the start the piece is 0 or more from the blade.")
        for what in sorted(self.maker_forbids - {"sled", "wing"}):
            faults.add("maker_forbids", what, "Known here are: sled, wing.")
        faults.raise_if_any()

    def forbids(self, extension: Extension) -> bool:
        """True if the saw's maker forbids it. Operator's-side and far-side supports stand on the floor: no wings."""
        return "wing" in self.maker_forbids and extension.side in {Side.KEEPER, Side.OFFCUT}

    def may_count(self, extension: Extension) -> bool:
        """True if the maker allows it and it was tested."""
        return extension.counts and not self.forbids(extension)

    @property
    def grounds(self) -> tuple[Ground, ...]:
        """Table and every extension that may be counted."""
        counted = (extension.ground(self.table) for extension in self.extensions if self.may_count(extension))
        return (self.table, *counted)


def _need_positive(faults: Faults, **values: float) -> None:
    for name, value in values.items():
        if not (isfinite(value) and value > 0):
            faults.add(name, f"{value:g}", "It must be a number above 0.")
