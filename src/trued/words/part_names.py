"""Names of measured parts for a person: `shelf 3 length`, `shelf 1-3, side 1-2 width`; `shelf@3.length` is typed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from trued.job.expression.tree import Side
from trued.job.job import Job
from trued.job.proof.part_inspection import PartResult

_TYPED = re.compile(r"(?P<part>[^@.]+?)(?:@(?P<copy>\d+))?(?:\.(?P<side>length|width|thickness))?(?:@(?P<late>\d+))?")
_WAYS = {Side.LENGTH: ("long", "short"), Side.WIDTH: ("wide", "narrow"), Side.THICKNESS: ("thick", "thin")}


@dataclass(frozen=True, slots=True)
class PartNames:
    """The names of one job's parts; a part of which there is one copy has no number."""

    job: Job

    def of(self, one: PartResult) -> str:
        """`shelf 3 length`, `shelf 3 against shelf 1`, or the name of a fit."""
        if one.kind == "alike":
            first, _, second = one.name.partition(" - ")
            return f"{self.one(first)} against {self.piece(second)}"
        return one.name if one.kind == "gap" else self.one(one.name)

    def one(self, typed: str) -> str:
        """`shelf 3 length` for `shelf@3.length`."""
        side = self.side(typed)
        return f"{self.piece(typed)} {side}" if side is not None else typed

    def piece(self, typed: str) -> str:
        """`shelf 3`."""
        part, copy, _ = _parts(typed)
        if part is None:
            return typed
        quantity = next((one.quantity for one in self.job.parts if one.id == part), 1)
        return f"{part} {copy}" if copy and quantity > 1 else part

    def side(self, typed: str) -> Side | None:
        """Which of its sizes; of a difference, that of both."""
        part, _, side = _parts(typed.partition(" - ")[0])
        known = part is not None and any(one.id == part for one in self.job.parts)
        return side if known else None

    def way(self, typed: str, off: float) -> str:
        """`short`; "" where it is neither."""
        side = self.side(typed)
        return "" if side is None or off == 0.0 else _WAYS[side][off < 0.0]

    def pair(self, name: str, off: float) -> tuple[str, str]:
        """The two of a difference as typed, the larger first."""
        first, _, second = name.partition(" - ")
        return (first, second) if off >= 0.0 else (second, first)

    def listed(self, typed: Iterable[str]) -> str:
        """`shelf 1-3, side 1-2 width`: copies of one size together, in the order of the first of each; a length is
        what a name without a size means."""
        families: dict[tuple[str, Side | None], list[int]] = {}
        for name in typed:
            part, copy, side = _parts(name)
            known = part is not None and self.side(name) is not None
            families.setdefault((part or name, side) if known else (name, None), []).append(int(copy or 0))
        return ", ".join(self._family(part, side, copies) for (part, side), copies in families.items())

    def _family(self, part: str, side: Side | None, copies: list[int]) -> str:
        if side is None:
            return part
        quantity = next((one.quantity for one in self.job.parts if one.id == part), 1)
        numbers = f" {', '.join(_runs(sorted(set(copies))))}" if quantity > 1 and any(copies) else ""
        return f"{part}{numbers}{'' if side is Side.LENGTH else f' {side}'}"


def _parts(typed: str) -> tuple[str | None, str, Side]:
    found = _TYPED.fullmatch(typed.strip())
    if found is None:
        return None, "", Side.LENGTH
    return found["part"], found["copy"] or found["late"] or "", Side(found["side"] or "length")


def _runs(numbers: list[int]) -> Iterator[str]:
    """`1-3` for numbers that follow one another."""
    for _, some in groupby(enumerate(numbers), key=lambda pair: pair[1] - pair[0]):
        run = [number for _, number in some]
        yield str(run[0]) if len(run) == 1 else f"{run[0]}-{run[-1]}"
