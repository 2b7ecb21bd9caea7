"""Drawings of a kept plan: a stock piece with its parts, and a fit's spread against its limits."""

from __future__ import annotations

import math

from trued.shapes import Drawing, Label, Line, Path, Point, rectangle
from trued.sheets.board import letter
from trued.sheets.hatch import hatch_of
from trued.units import Unit
from trued.usecases.json_node import Node
from trued.usecases.plan_words import near, small

Shape = Line | Path | Label
_WIDE, _HIGH = 12.0, 3.0
_SIGMAS = 3.5


def board_of(piece: Node, title: str, kinds: dict[str, int], unit: Unit) -> tuple[Drawing, tuple[str, ...]]:
    """The piece seen from above, its datum end at the left; and the list of its letters with running distances."""
    length, width = piece["length"].number or 1.0, piece["width"].number or 1.0
    shapes: list[Shape] = [rectangle(0, 0, length, width, "stock")]
    places: dict[str, list[str]] = {}
    sizes: dict[str, str] = {}
    for placed in piece["placements"]:
        name, x, y, long, wide = _rect(placed)
        sign = f"{letter(kinds[name])}{placed['copy'].number or 1:.0f}"
        shapes += [
            rectangle(x, y, long, wide, hatch_of(kinds[name])),
            Label((x + long / 2, y + wide / 2), sign, "letter"),
        ]
        places.setdefault(name, []).append(f"{sign} from {near(x, unit)} to {near(x + long, unit)}")
        sizes[name] = f"{near(long, unit)} × {near(wide, unit)}"
    for left in piece["offcuts"]:
        _, x, y, long, wide = _rect(left)
        shapes += [rectangle(x, y, long, wide, "offcut"), Label((x + long / 2, y + wide / 2), "keep")]
    key = tuple(f"{letter(kinds[name])}: {name}, {sizes[name]}; {', '.join(at)}" for name, at in places.items())
    told = f"Seen from above; distances run from the end at the left. {'. '.join(key)}."
    return Drawing(title, told, tuple(shapes)), key


def _rect(node: Node) -> tuple[str, float, float, float, float]:
    numbers = [node[name].number or 0.0 for name in ("x", "y", "length", "width")]
    return node["part"].text, numbers[0], numbers[1], numbers[2], numbers[3]


def fit_of(
    name: str, mean: float, sd: float, low: float | None, high: float | None, unit: Unit, chance: str
) -> Drawing:
    """How often it comes to what, as a hill over a line, with the limits as dashed posts."""
    limits = [x for x in (low, high) if x is not None]
    start = min(mean - _SIGMAS * sd, *limits, mean)
    end = max(mean + _SIGMAS * sd, *limits, mean)
    span = (end - start) or 1.0
    start, span = start - 0.08 * span, 1.16 * span

    def at(x: float) -> float:
        return _WIDE * (x - start) / span

    hill: list[Point] = []
    for step in range(41):
        z = _SIGMAS * (step / 20.0 - 1.0)
        hill.append((at(mean + z * sd), _HIGH * math.exp(-0.5 * z * z)))
    shapes: list[Shape] = [
        Path((*hill, (hill[-1][0], 0.0), (hill[0][0], 0.0)), "part"),
        Line((0.0, 0.0), (_WIDE, 0.0), "axis"),
    ]
    for limit in limits:
        words = f"{'least' if limit == low else 'most'} {small(limit, unit)}"
        shapes += [Line((at(limit), -0.3), (at(limit), _HIGH * 1.15), "limit"), Label((at(limit), -0.8), words)]
    told = f"Expected {small(mean, unit)}, give or take {small(sd, unit)}; {chance}."
    return Drawing(f"{name}: what it comes to", told, tuple(shapes))
