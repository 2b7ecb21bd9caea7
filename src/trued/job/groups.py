"""Which cuts share what: every copy of a part with its settings, station and piece of stock.

The plan fills this in from its order of cuts; the error budget reads it. It lies here so that the budget
depends on the order without knowing the planner.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from trued.job.job import Job
from trued.job.part import Part


@dataclass(frozen=True, slots=True)
class CutGroup:
    """How one copy is made.

    length_setting, width_setting: ids of the settings of stop and rip fence; the same id is the same setting,
                                   not touched in between. "" : the size is not cut (it comes as it is).
    station:                       where its length is cut; of stations with the same name all sources are shared.
    stock:                         the board or sheet it comes from, `B1/1`.
    """

    length_setting: str
    width_setting: str
    station: str = "sled"
    stock: str = ""


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
        group = CutGroup(f"{family}:{_set_to(part, 'length')}", f"{family}:{_set_to(part, 'width')}")
        groups.update({(part.id, copy): group for copy in part.copies})
    return CutGroups(groups)


def _set_to(part: Part, side: str) -> str:
    size = part.length if side == "length" else part.width
    return f"{side}={size.exact_mm}" if size else side
