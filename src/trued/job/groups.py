"""Which cuts share what: every copy of a part with its settings, station and piece of stock.

The plan fills this in from its order of cuts; the error budget reads it. It lies here so that the budget
depends on the order without knowing the planner.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from trued.job.expression.tree import Side
from trued.job.job import Job
from trued.job.part import Part

SLED, RIP_FENCE, GUIDED_SAW = "sled", "rip fence", "guided saw"
"""The stations whose errors are known here; a size cut anywhere else is taken as one cut with the guided saw."""


@dataclass(frozen=True, slots=True)
class CutGroup:
    """How one copy is made.

    length_setting, width_setting: ids of the settings of stop and rip fence; the same id is the same setting, not
                                   touched in between. "": the size is not cut, it is as the stock has it.
    station, width_station:        where its length and its width are cut.
    stock:                         the board or sheet it comes from, `B1/1`; "" while that is not known.
    length_reading_mm, width_reading_mm: what the scale was set to; None is the corrected setting, on the scale.
    leans:                         which way a tight fence makes its two ends lean, +1 outward; None: by the method.
    """

    length_setting: str
    width_setting: str
    station: str = SLED
    stock: str = ""
    width_station: str = RIP_FENCE
    length_reading_mm: float | None = None
    width_reading_mm: float | None = None
    leans: tuple[int, int] | None = None

    def setting(self, side: Side) -> str:
        """The setting of its length or width."""
        return self.length_setting if side is Side.LENGTH else self.width_setting

    def where(self, side: Side) -> str:
        """The station where its length or width is cut."""
        return self.station if side is Side.LENGTH else self.width_station

    def reading_mm(self, side: Side) -> float | None:
        """What the scale was set to for its length or width."""
        return self.length_reading_mm if side is Side.LENGTH else self.width_reading_mm


@dataclass(frozen=True, slots=True)
class CutGroups:
    """Part id and copy number to its group; every copy of every part that is ready has one."""

    of: Mapping[tuple[str, int], CutGroup]

    def __getitem__(self, copy: tuple[str, int]) -> CutGroup:
        return self.of[copy]

    def __iter__(self) -> Iterator[tuple[str, int]]:
        return iter(self.of)

    def __len__(self) -> int:
        return len(self.of)


def default_groups(job: Job) -> CutGroups:
    """The grouping while there is no plan: one setting for all copies of a part, and for parts `together`.

    Parts kept together share a setting only where the size to be set is the same.
    """
    groups: dict[tuple[str, int], CutGroup] = {}
    for part in job.ready:
        family = part.together or part.id
        length, width = (f"{family}:{side}={_set_to(part, side)}" for side in (Side.LENGTH, Side.WIDTH))
        group = CutGroup(length, width)
        groups.update({(part.id, copy): group for copy in part.copies})
    return CutGroups(groups)


def _set_to(part: Part, side: Side) -> str:
    size = part.size(side)
    return str(size.exact_mm) if size else ""
