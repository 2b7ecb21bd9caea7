"""The cuts of one stock piece as a list: for a piece on whose drawing their numbers would lie on one another."""

from collections.abc import Callable, Iterator, Sequence
from itertools import combinations

from trued.plan.document import PlanBoard, PlanCut
from trued.plan.layout.cut_tree import Axis

Show = Callable[[float], str]
"""How a size in millimetres is written for the person."""

_WORD = 0.09
_LINE = 0.05
"""How wide and how high the words of a cut come out, as shares of the piece's length."""
_HAIR_MM = 1e-6


def crowded(board: PlanBoard) -> bool:
    """Whether the words of two of its cuts would lie on one another."""
    return any(_meet(one, other, board.length) for one, other in combinations(board.cuts, 2))


def same(one_mm: float, other_mm: float) -> bool:
    """Whether two places are one, but for the last bits of a sum."""
    return abs(one_mm - other_mm) < _HAIR_MM


def _meet(one: PlanCut, other: PlanCut, long: float) -> bool:
    if one.axis is not other.axis:
        return False
    near, far = one.rect, other.rect
    if one.axis is Axis.ACROSS:
        beside = near.y < far.end_y and far.y < near.end_y
        return beside and abs(place(one) - place(other)) < _WORD * long
    over = near.x < far.end_x and far.x < near.end_x
    return over and abs(place(one) - place(other)) < _LINE * long


def place(cut: PlanCut) -> float:
    """Where the near side of its kerf lies, from the reference end or the reference edge."""
    return (cut.x if cut.axis is Axis.ACROSS else cut.y) + cut.position


def cut_lists(board: PlanBoard, show: Show) -> Iterator[tuple[str, str]]:
    """Strip by strip (what they cut, their numbers and places in the order of cutting)."""
    strips: dict[str, list[PlanCut]] = {}
    for cut in sorted((cut for cut in board.cuts if cut.number), key=lambda cut: cut.number or 0):
        strips.setdefault(_strip(cut, board, show), []).append(cut)
    for strip, own in strips.items():
        yield strip, _listed(own, show)


def _strip(cut: PlanCut, board: PlanBoard, show: Show) -> str:
    piece = cut.rect
    if cut.axis is Axis.ACROSS:
        if piece.y == 0 and same(piece.end_y, board.width):
            return "across, from the reference end"
        return f"across, in the strip {show(piece.y)} to {show(piece.end_y)} from the reference edge"
    if piece.x == 0 and same(piece.end_x, board.length):
        return "along, from the reference edge"
    return f"along, in the piece {show(piece.x)} to {show(piece.end_x)} from the reference end"


def _listed(own: Sequence[PlanCut], show: Show) -> str:
    """No line ends inside one of them."""
    return ", ".join(f"cut {cut.number} at {show(place(cut))}".replace(" ", "\u00a0") for cut in own)
