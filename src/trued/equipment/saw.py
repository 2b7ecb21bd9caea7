"""The saw and its blade: what support, order of cuts and refusals need to know. A fact not known is None."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

Hand = Literal["left", "right"]
"""As seen from the operator's place, facing the blade; it only ever says which side the keeper lies on."""

Side = Literal["keeper", "offcut", "operator", "far"]
"""The four sides of a table, by what lies or stands there."""

BANS = (
    "dado-stack",
    "crosscut-sled",
    "mitre-gauge",
    "wing",
    "sled-without-guard",
    "table-drilled",
    "rail-clamped",
    "non-through-cut",
)
"""What a saw's maker may forbid, in the words of a shop file."""


def other(hand: Hand) -> Hand:
    """The other hand."""
    return "right" if hand == "left" else "left"


@dataclass(frozen=True, slots=True)
class Table:
    """Edges of the saw table in mm: left and right of the blade's plane, operator's and far side of the arbor."""

    left_mm: float | None = None
    right_mm: float | None = None
    operator_mm: float | None = None
    far_mm: float | None = None

    def edge(self, side: Side, keeper: Hand) -> float | None:
        """Distance to the edge on that side, for work whose keeper lies to that hand of the blade."""
        if side == "operator":
            return self.operator_mm
        if side == "far":
            return self.far_mm
        hand = keeper if side == "keeper" else other(keeper)
        return self.left_mm if hand == "left" else self.right_mm


@dataclass(frozen=True, slots=True)
class Saw:
    """A table saw. Lengths in mm, weight in kg.

    slot_mm:       middle of the slot to the blade's plane; `slot_side` says on which side of the blade it lies.
    feet_mm:       how far the feet of the stand reach to each side of the blade's plane.
    max_cut_mm:    highest cut by the angle between blade and table in degrees (90 is upright).
    tilts_to:      the side to which the top of the blade leans when it is tilted.
    rip_mm:        widest rip. least_rip_mm: the shortest piece that may be ripped.
    knife_mm:      thickness of the riving knife, 0 where there is none. knife_behind_mm: from the last teeth to it.
    arbor_mm, largest_blade_mm, speed_rpm: what a blade must suit.
    maker_forbids: words of `BANS`; None while nobody has looked into the manual.
    """

    id: str
    table: Table = field(default_factory=Table)
    slot_mm: float | None = None
    slot_side: Hand | None = None
    weight_kg: float | None = None
    feet_mm: float | None = None
    max_cut_mm: Mapping[int, float] = field(default_factory=dict)
    tilts_to: Hand | None = None
    rip_mm: float | None = None
    least_rip_mm: float | None = None
    knife_mm: float | None = None
    arbor_mm: float | None = None
    largest_blade_mm: float | None = None
    speed_rpm: int | None = None
    maker_forbids: tuple[str, ...] | None = None
    knife_behind_mm: float | None = None

    def forbids(self, what: str) -> bool:
        """Whether the maker is known to forbid it; nothing outweighs that."""
        return what in (self.maker_forbids or ())


@dataclass(frozen=True, slots=True)
class Blade:
    """A saw blade, lengths in mm. `flange`: the side of the blade on which the fixed flange of the arbor lies."""

    id: str
    plate_mm: float | None = None
    kerf_mm: float | None = None
    flange: Hand | None = None
    diameter_mm: float | None = None
    bore_mm: float | None = None
    max_speed_rpm: int | None = None

    def __post_init__(self) -> None:
        if self.plate_mm is not None and self.kerf_mm is not None and self.plate_mm >= self.kerf_mm:
            raise ValueError(f"{self.id}: the kerf is wider than the plate, or the blade would bind")
