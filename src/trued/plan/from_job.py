"""From a job to what a layout is made from: stock, wanted parts, rules of cutting, in whole units.

Parts, kerf, trims and defects are rounded up and stock down where a size is not whole (a third of an inch, say), so
that what was laid out can be cut. A thickness only says which stock a part comes from: it is rounded to the nearest
on both sides, so that equal stays equal.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from trued.job.angles import needs_angles
from trued.job.job import Job, Method
from trued.job.part import Part
from trued.job.size import Size
from trued.job.stock import Defect, StockLine
from trued.plan.layout.pieces import UNITS_PER_MM, PartGrain, Rect, Rules, Stock, StockGrain, Want, units_down, units_up


def stocks_of(job: Job) -> tuple[Stock, ...]:
    """The stock of a job."""
    return tuple(_stock(line) for line in job.stock)


def wants_of(job: Job) -> tuple[Want, ...]:
    """The parts that can be cut now: all sizes known, and stock of their material and thickness in the job.

    Parts whose ends are cut at an angle are left out: laid out and cut square they would be spoiled.
    """
    angled = needs_angles(job)
    return tuple(_want(part) for part in job.ready if part.id not in angled and _has_stock(part, job))


def without_stock(job: Job) -> tuple[Part, ...]:
    """Parts whose sizes are known, but of whose material and thickness the job has no stock."""
    return tuple(part for part in job.ready if not _has_stock(part, job))


def rules_of(
    job: Job, kerf_mm: Fraction, *, seed: int = 1, effort: int = 2000, time_up: Callable[[], bool] | None = None
) -> Rules:
    """The rules of cutting of a job, with that kerf."""
    allowance = 0
    if job.method is Method.ROUGH and job.rough is not None:
        allowance = units_up(job.rough.exact_mm)
    return Rules(units_up(kerf_mm), allowance=allowance, seed=seed, effort=effort, time_up=time_up)


def _stock(line: StockLine) -> Stock:
    ends, edges = line.trim_ends_mm, line.trim_edges_mm
    length, width = units_down(line.length.exact_mm), units_down(line.width.exact_mm)
    return Stock(
        id=line.id,
        length=length,
        width=width,
        have=line.have,
        price=line.price,
        trim_ends=(units_up(ends[0]), units_up(ends[1])),
        trim_edges=(units_up(edges[0]), units_up(edges[1])),
        material=line.material,
        thickness=_thickness(line.thickness),
        grain=StockGrain(line.grain),
        offcut=line.offcut,
        defects=tuple(_mark(defect, length, width) for defect in line.defects),
    )


def _mark(defect: Defect, length: int, width: int) -> Rect:
    """A defect, from its near corner rounded down to its far one rounded up, but never beyond the piece."""
    x, y = units_down(defect.x_mm), units_down(defect.y_mm)
    end_x = min(length, units_up(defect.x_mm + defect.length_mm))
    end_y = min(width, units_up(defect.y_mm + defect.width_mm))
    return Rect(x, y, end_x - x, end_y - y)


def _want(part: Part) -> Want:
    if part.length is None or part.width is None or part.thickness is None:
        raise ValueError(f"{part.id} is held back until it is measured")
    return Want(
        id=part.id,
        copies=part.quantity,
        length=units_up(part.length.exact_mm),
        width=units_up(part.width.exact_mm),
        grain=PartGrain(part.grain),
        material=part.material,
        thickness=_thickness(part.thickness),
        together=part.together,
    )


def _has_stock(part: Part, job: Job) -> bool:
    wood = part.material, part.thickness and _thickness(part.thickness)
    return any((line.material, _thickness(line.thickness)) == wood for line in job.stock)


def _thickness(size: Size) -> int:
    return round(size.exact_mm * UNITS_PER_MM)
