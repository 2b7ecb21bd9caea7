"""Breaking a sheet down: a size that the layout would cut on the floor is cut there a little over, and then at the saw.

A guided saw on the floor holds no two mates alike. Where the offcut can spare a kerf and a margin, strips that lie side
by side come off the sheet as one blank, over size, and each gets its size from the rip fence or the sled.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from trued.plan.layout.cut_tree import Axis, Cut, Node, Offcut, Part, Sized, Used, Waste, cuts, offcuts
from trued.plan.layout.freeze import useful
from trued.plan.layout.pieces import Rect, Rules, Stock, Want
from trued.plan.layout.result import Layout
from trued.plan.layout.strips import between, chain_of, shifted, start_of
from trued.plan.layout.verifier import violations_of
from trued.plan.search.objective import offcut_worth
from trued.plan.stations.station import Reach, Station, station_for

MARGIN = 31_750_000
"""How much over a blank is cut on the floor: 1/8 in, common practice."""

_MOST_CUTS = 250  # of one piece; the trees are walked by recursion


def broken_down(
    layout: Layout, stocks: tuple[Stock, ...], wants: tuple[Want, ...], rules: Rules, reach: Reach
) -> Layout:
    """The layout with its floor cuts made over size where that can be; the same layout where it cannot.

    Sizes, stock and cost stay; only offcuts lose a little. `plan/layout/verifier.py` has the last word.
    """
    if rules.remainder:
        return layout
    for number, piece in enumerate(layout.used):
        breaker = _Breaker(piece.stock, rules, reach)
        broken = Used(piece.stock, piece.copy, breaker.tree(piece.tree))
        if breaker.on_floor(broken.tree) < breaker.on_floor(piece.tree):
            used = (*layout.used[:number], broken, *layout.used[number + 1 :])
            found = replace(layout, used=used, offcut_value=_worth(used, rules))
            layout = layout if violations_of(found, stocks, wants, rules) else found
    return layout


class _Breaker:
    """Walks the tree of one stock piece."""

    def __init__(self, stock: Stock, rules: Rules, reach: Reach) -> None:
        self._stock = stock
        self._rules = rules
        self._reach = reach

    def on_floor(self, tree: Node) -> int:
        """How many sizes come from cuts on the floor."""
        return sum(cut.sized is not Sized.NONE and self._station(cut) is Station.FLOOR for cut in cuts(tree))

    def tree(self, tree: Node) -> Node:
        """The tree broken down, whether its parts keep clear of trims and defects or not."""
        return self._node(tree) if sum(1 for _ in cuts(tree)) <= _MOST_CUTS else tree

    def _node(self, node: Node) -> Node:
        if not isinstance(node, Cut):
            return node
        if (
            node.sized is Sized.LOW
            and self._station(node) is Station.FLOOR
            and (rough := self._rough(node)) is not None
        ):
            node = rough
        low, high = (None if child is None else self._node(child) for child in (node.low, node.high))
        return replace(node, low=low, high=high)

    def _station(self, cut: Cut) -> Station:
        return station_for(cut, self._reach, self._stock)

    def _rough(self, first: Cut) -> Cut | None:
        """One cut on the floor that frees as many strips as the saw can then take; None where it cannot be."""
        chain = chain_of(first)
        for many in range(len(chain), 0, -1):
            strips = chain[:many]
            rest, depth = strips[-1].high, sum(cut.position + cut.kerf for cut in strips) + MARGIN
            pushed = None if rest is None else self._pushed(rest, first.axis, MARGIN + self._rules.kerf)
            if pushed is None:
                continue
            blank = _blank(strips, first.axis, depth)
            if all(self._station(cut) in (Station.SLED, Station.RIP) for cut in chain_of(blank)):
                return replace(first, position=depth, kerf=self._rules.kerf, low=blank, high=pushed, sized=Sized.NONE)
        return None

    def _pushed(self, node: Node, axis: Axis, by: int) -> Node | None:
        """The node, its reference side moved in and its far side where it was; None where no waste takes that up."""
        if isinstance(node, Part):
            return None
        rect = _from_reference(node.piece, axis, by)
        if rect is None or not isinstance(node, Cut):
            return None if rect is None else self._left_over(node, rect)
        if node.axis is not axis:
            low, high = (None if child is None else self._pushed(child, axis, by) for child in (node.low, node.high))
            gone = (low is None) != (node.low is None) or (high is None) != (node.high is None)
            return None if gone else replace(node, piece=rect, low=low, high=high)
        if node.sized is Sized.HIGH:
            low = None if node.low is None else self._pushed(node.low, axis, by)
            return None if low is None else replace(node, piece=rect, position=node.position - by, low=low)
        high = None if node.high is None else self._pushed(node.high, axis, by)
        low = None if node.low is None else shifted(node.low, axis, by)
        return None if high is None else replace(node, piece=rect, low=low, high=high)

    def _left_over(self, leaf: Node, rect: Rect) -> Node:
        keep = isinstance(leaf, Offcut) and _is_useful(rect, self._stock, self._rules)
        return Offcut(rect) if keep else Waste(rect)


def _blank(strips: Sequence[Cut], axis: Axis, depth: int) -> Cut:
    """The strips in a piece of their own, the margin at its far side."""
    first = strips[0]
    end = start_of(first.piece, axis) + depth
    node: Node = Waste(between(first.piece, axis, end - MARGIN, end))
    for cut in reversed(strips[1:]):
        node = replace(cut, piece=between(first.piece, axis, start_of(cut.piece, axis), end), high=node)
    return replace(first, piece=between(first.piece, axis, start_of(first.piece, axis), end), high=node)


def _from_reference(rect: Rect, axis: Axis, by: int) -> Rect | None:
    """The piece with its reference side moved in and its far side where it was; None where nothing is left."""
    begin, end = start_of(rect, axis) + by, rect.end_x if axis is Axis.ACROSS else rect.end_y
    return between(rect, axis, begin, end) if begin < end else None


def _within_trims(rect: Rect, stock: Stock, rules: Rules) -> tuple[int, int]:
    """Length and width of an offcut without the far trims that it still has."""
    far_x, far_y = (trims[1] + rules.kerf if trims[1] else 0 for trims in (stock.trim_ends, stock.trim_edges))
    return min(rect.end_x, stock.length - far_x) - rect.x, min(rect.end_y, stock.width - far_y) - rect.y


def _is_useful(rect: Rect, stock: Stock, rules: Rules) -> bool:
    return useful(*_within_trims(rect, stock, rules), stock, rules)


def _worth(used: Sequence[Used], rules: Rules) -> float:
    sizes = (_within_trims(left.piece, one.stock, rules) for one in used for left in offcuts(one.tree))
    return sum(offcut_worth(length * width) for length, width in sizes)
