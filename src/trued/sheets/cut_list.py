"""The cuts of one stock piece as a list: for a piece on whose drawing their numbers would lie on one another."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import combinations

from trued.plan.tree import Axis, Cut, Used, cuts

Show = Callable[[int], str]

_WORD = 0.09
_LINE = 0.05
"""How wide and how high the words of a cut come out, as shares of the piece's length."""


def crowded(used: Used) -> bool:
    """Whether the words of two of its cuts would lie on one another."""
    long = used.stock.length
    return any(_meet(one, other, long) for one, other in combinations(cuts(used.tree), 2))


def _meet(one: Cut, other: Cut, long: int) -> bool:
    if one.axis is not other.axis:
        return False
    if one.axis is Axis.ACROSS:
        beside = one.piece.y < other.piece.end_y and other.piece.y < one.piece.end_y
        return beside and abs(place(one) - place(other)) < _WORD * long
    over = one.piece.x < other.piece.end_x and other.piece.x < one.piece.end_x
    return over and abs(place(one) - place(other)) < _LINE * long


def place(cut: Cut) -> int:
    """Where the near side of its kerf lies, from the reference end or the reference edge."""
    return (cut.piece.x if cut.axis is Axis.ACROSS else cut.piece.y) + cut.position


def cut_lists(used: Used, show: Show, numbers: Mapping[Cut, int]) -> Iterator[tuple[str, str]]:
    """Strip by strip (what they cut, their numbers and places in the order of cutting)."""
    strips: dict[str, list[Cut]] = {}
    for cut in sorted((cut for cut in cuts(used.tree) if cut in numbers), key=lambda cut: numbers[cut]):
        strips.setdefault(_strip(cut, used, show), []).append(cut)
    for strip, own in strips.items():
        yield strip, _listed(own, show, numbers)


def _strip(cut: Cut, used: Used, show: Show) -> str:
    piece, stock = cut.piece, used.stock
    if cut.axis is Axis.ACROSS:
        if piece.y == 0 and piece.end_y == stock.width:
            return "across, from the reference end"
        return f"across, in the strip {show(piece.y)} to {show(piece.end_y)} from the reference edge"
    if piece.x == 0 and piece.end_x == stock.length:
        return "along, from the reference edge"
    return f"along, in the piece {show(piece.x)} to {show(piece.end_x)} from the reference end"


def _listed(own: Sequence[Cut], show: Show, numbers: Mapping[Cut, int]) -> str:
    """No line ends inside one of them."""
    return ", ".join(f"cut {numbers[cut]} at {show(place(cut))}".replace(" ", "\u00a0") for cut in own)
