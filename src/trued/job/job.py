"""A job: the parts, the fits that the finished piece must have, and the stock."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from trued.errors import Faults
from trued.job.assembly.made import Assembled
from trued.job.expression.tree import Node
from trued.job.geometry.fit_spec import FitSpec
from trued.job.part import Part
from trued.job.size import Size
from trued.job.stock import StockLine
from trued.units import Unit


class Method(StrEnum):
    """How a part comes to its length: one cut after another along the board, or first rough and then to size."""

    CONTINUOUS = "continuous"
    ROUGH = "rough"


@dataclass(frozen=True, slots=True)
class Named:
    """A size that was measured (then `instrument` says with what) or decided, by its name; exact mm.

    cut: it is the width or depth of a joint that will be cut, with an error of its own.
    exact_mm is None where it is held back or rests on a size that is; `of` is None where itself is held back.
    """

    name: str
    exact_mm: Fraction | None
    text: str
    of: Node | None
    instrument: str = ""
    cut: bool = False


@dataclass(frozen=True, slots=True)
class Job:
    """Everything that a job file says. Ids are unique; every name and part in an expression exists.

    method, rough: with `rough` each blank is first cut longer by this much, and to its length afterwards.
    kerf:          the job's own kerf where no shop gives one.
    assemblies:    pieces that were written as a whole, with where the sizes of their parts come from.
    """

    name: str
    unit: Unit
    parts: tuple[Part, ...]
    stock: tuple[StockLine, ...] = ()
    fits: tuple[FitSpec, ...] = ()
    named: tuple[Named, ...] = ()
    method: Method = Method.CONTINUOUS
    rough: Size | None = None
    kerf: Size | None = None
    assemblies: tuple[Assembled, ...] = ()

    def __post_init__(self) -> None:
        faults = Faults()
        judge_whole(faults, has_parts=bool(self.parts), has_rough=self.rough is not None, method=self.method)
        for table, ids in (
            ("[[part]]", [p.id for p in self.parts]),
            ("[[stock]]", [s.id for s in self.stock]),
            ("[[fit]]", [f.id for f in self.fits]),
        ):
            for twice in dict.fromkeys(id for id in ids if ids.count(id) > 1):
                faults.add(f'{table} "{twice}"', twice, "This id is there more than once; give each its own.")
        faults.raise_if_any()

    def part(self, id: str) -> Part:
        """The part with this id; KeyError when there is none."""
        for part in self.parts:
            if part.id == id:
                return part
        raise KeyError(id)

    @property
    def ready(self) -> tuple[Part, ...]:
        """The parts whose sizes are all known: those that can be cut now."""
        return tuple(part for part in self.parts if not part.held_back)

    @property
    def waiting(self) -> tuple[Part, ...]:
        """The parts held back until something has been measured."""
        return tuple(part for part in self.parts if part.held_back)


def judge_whole(faults: Faults, *, has_parts: bool, has_rough: bool, method: Method) -> None:
    """Note what a job as a whole lacks."""
    if not has_parts:
        faults.add("[[part]]", "", "A job needs at least one part.")
    if has_rough != (method is Method.ROUGH):
        faults.add("rough", "", 'The rough method needs an allowance such as rough = "1/2", and only that method.')
