"""The drawing of a kept plan: a stock piece with its parts."""

from __future__ import annotations

from trued.plan.document import PlanBoard
from trued.shapes import Drawing, Label, Path, rectangle
from trued.sheets.board import letter
from trued.sheets.hatch import hatch_of
from trued.units import Unit
from trued.usecases.plan_words import near

Shape = Path | Label


def board_of(board: PlanBoard, kinds: dict[str, int], unit: Unit) -> tuple[Drawing, tuple[str, ...]]:
    """The piece seen from above, its reference end at the left; and the list of its letters with running distances."""
    shapes: list[Shape] = [rectangle(0, 0, board.length, board.width, "stock")]
    places: dict[str, list[str]] = {}
    sizes: dict[str, str] = {}
    for one in board.placements:
        name, x, y, long, wide = one.part, one.x, one.y, one.length, one.width
        sign = f"{letter(kinds[name])}{one.copy}"
        shapes += [
            rectangle(x, y, long, wide, hatch_of(kinds[name])),
            Label((x + long / 2, y + wide / 2), sign, "letter"),
        ]
        across = "" if y == 0 and wide == board.width else f" ({near(y, unit)} to {near(y + wide, unit)} across)"
        places.setdefault(name, []).append(f"{sign} from {near(x, unit)} to {near(x + long, unit)}{across}")
        sizes[name] = f"{near(long, unit)} × {near(wide, unit)}"
    for left in board.offcuts:
        shapes += [
            rectangle(left.x, left.y, left.length, left.width, "offcut"),
            Label((left.x + left.length / 2, left.y + left.width / 2), "keep"),
        ]
    key = tuple(f"{letter(kinds[name])}: {name}, {sizes[name]}; {', '.join(at)}" for name, at in places.items())
    told = f"Seen from above; distances run from the end at the left and the edge below. {'. '.join(key)}."
    return Drawing(board.title, told, tuple(shapes)), key
