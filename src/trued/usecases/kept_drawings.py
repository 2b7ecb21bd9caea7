"""The drawing of a kept plan: a stock piece with its parts."""

from __future__ import annotations

from trued.shapes import Drawing, Label, Path, rectangle
from trued.sheets.board import letter
from trued.sheets.hatch import hatch_of
from trued.units import Unit
from trued.usecases.json_node import Node
from trued.usecases.plan_words import near

Shape = Path | Label


def board_of(piece: Node, title: str, kinds: dict[str, int], unit: Unit) -> tuple[Drawing, tuple[str, ...]]:
    """The piece seen from above, its reference end at the left; and the list of its letters with running distances."""
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
        across = "" if y == 0 and wide == width else f" ({near(y, unit)} to {near(y + wide, unit)} across)"
        places.setdefault(name, []).append(f"{sign} from {near(x, unit)} to {near(x + long, unit)}{across}")
        sizes[name] = f"{near(long, unit)} × {near(wide, unit)}"
    for left in piece["offcuts"]:
        _, x, y, long, wide = _rect(left)
        shapes += [rectangle(x, y, long, wide, "offcut"), Label((x + long / 2, y + wide / 2), "keep")]
    key = tuple(f"{letter(kinds[name])}: {name}, {sizes[name]}; {', '.join(at)}" for name, at in places.items())
    told = f"Seen from above; distances run from the end at the left and the edge below. {'. '.join(key)}."
    return Drawing(title, told, tuple(shapes)), key


def _rect(node: Node) -> tuple[str, float, float, float, float]:
    numbers = [node[name].number or 0.0 for name in ("x", "y", "length", "width")]
    return node["part"].text, numbers[0], numbers[1], numbers[2], numbers[3]
