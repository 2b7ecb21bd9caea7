"""Parts that may never be over, or never under: their settings are rounded to that side.

A fit with one limit only (a drawer that may never be wide) says so by the way in which it follows a size.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from trued.equipment.scale_setting import SettingRounding
from trued.job.expression.evaluate import Ground, evaluate, exact_choice
from trued.job.expression.tree import Name, Node, PartSize, Side
from trued.job.geometry.fit_spec import FitSpec
from trued.job.job import Job
from trued.job.part import Part

_BIT = Fraction(1, 1000)  # mm; far below any error of cutting, and far above nothing


@dataclass(frozen=True, slots=True)
class _Targets:
    """The sizes that are meant, with one side of all copies of one part larger by a bit."""

    job: Job
    larger: tuple[str, Side] | None = None

    def of(self, node: Node) -> Fraction:
        return evaluate(node, Ground(Fraction, self._size, exact_choice))

    def _size(self, use: Name | PartSize) -> Fraction:
        if isinstance(use, PartSize):
            size = self.job.part(use.part).size(use.side)
            if size is None:
                raise KeyError(use.part)
            return size.exact_mm + (_BIT if (use.part, use.side) == self.larger else 0)
        named = next(named for named in self.job.named if named.name == use.name)
        if named.of is not None and not named.instrument:
            return self.of(named.of)
        if named.exact_mm is None:
            raise KeyError(use.name)
        return named.exact_mm


def meant_mm(job: Job, node: Node) -> Fraction:
    """What an expression comes to when every part has the size that is meant. KeyError for a size held back."""
    return _Targets(job).of(node)


def roundings_of(job: Job, fits: tuple[FitSpec, ...]) -> dict[tuple[str, Side], SettingRounding]:
    """Part and side to `down` (never over) or `up` (never under), from the fits with one limit.

    Where two fits want it both ways, or a fit does not follow the size, the part is not named.
    """
    wanted: dict[tuple[str, Side], set[SettingRounding]] = {}
    for fit in fits:
        if (fit.at_least_mm is None) == (fit.at_most_mm is None):
            continue
        for part in job.ready:
            for side in (Side.LENGTH, Side.WIDTH):
                if (way := _way(job, fit, part, side)) is not None:
                    wanted.setdefault((part.id, side), set()).add(way)
    return {place: next(iter(ways)) for place, ways in wanted.items() if len(ways) == 1}


def _way(job: Job, fit: FitSpec, part: Part, side: Side) -> SettingRounding | None:
    more = _Targets(job, (part.id, side)).of(fit.of) - _Targets(job).of(fit.of)
    if more == 0:
        return None
    breaks = more < 0 if fit.at_least_mm is not None else more > 0
    return "down" if breaks else "up"
