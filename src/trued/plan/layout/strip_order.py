"""Strips that come off one piece side by side, put in the order of their size: long before short, like beside like.

Their order is free as far as the wood goes, but one piece comes off after another: a size that comes up twice with
another between would be set twice.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby

from trued.plan.layout.cut_tree import Axis, Cut, Node, Sized, Used, Waste, cuts, walk
from trued.plan.layout.pieces import Rules, Stock, Want
from trued.plan.layout.result import Layout
from trued.plan.layout.strips import between, chain_of, shifted, start_of
from trued.plan.layout.verifier import violations_of

_MOST_CUTS = 250  # of one piece; the trees are walked by recursion


def tidied(layout: Layout, stocks: tuple[Stock, ...], wants: tuple[Want, ...], rules: Rules) -> Layout:
    """The layout with the strips of every piece in order of size; a piece stays as it was where a defect is in the way.

    Cuts that only cut waste go; stock, cost, offcuts and sizes stay. `plan/layout/verifier.py` has the last word.
    """
    for number, piece in enumerate(layout.used):
        bare = without_idle_cuts(piece.tree)
        tree = _tidy(bare) if sum(1 for _ in cuts(piece.tree)) <= _MOST_CUTS else bare
        if tree != piece.tree:
            used = (*layout.used[:number], Used(piece.stock, piece.copy, tree), *layout.used[number + 1 :])
            found = replace(layout, used=used)
            layout = layout if violations_of(found, stocks, wants, rules) else found
    return layout


def without_idle_cuts(node: Node) -> Node:
    """The tree without the cuts that only cut waste into more waste."""
    if not isinstance(node, Cut):
        return node
    if all(isinstance(here, Cut | Waste) for here in walk(node)):
        return Waste(node.piece)
    low = None if node.low is None else without_idle_cuts(node.low)
    return replace(node, low=low, high=None if node.high is None else without_idle_cuts(node.high))


def _tidy(node: Node) -> Node:
    if not isinstance(node, Cut):
        return node
    chain = chain_of(node)
    rest = None if chain[-1].high is None else _tidy(chain[-1].high)
    return _laid(chain, _in_order(chain), node.axis, rest)


def _in_order(chain: list[Cut]) -> list[Cut]:
    """Long before short; a cut that squares an end or edge keeps its place, for what follows is measured from it."""
    order: list[Cut] = []
    for squares, run in groupby(chain, key=lambda cut: cut.sized is Sized.NONE):
        strips = list(run)
        order += strips if squares else sorted(strips, key=lambda cut: -cut.position)
    return order


def _laid(places: list[Cut], strips: list[Cut], axis: Axis, rest: Node | None) -> Cut:
    """The strips one after another in the places of the chain; a kerf belongs to its place."""
    first = places[0].piece
    begins = [start_of(first, axis)]
    for place, strip in zip(places, strips, strict=True):
        begins.append(begins[-1] + strip.position + place.kerf)
    end = first.end_x if axis is Axis.ACROSS else first.end_y
    node = rest
    for place, strip, begin in reversed(list(zip(places, strips, begins[:-1], strict=True))):
        low = None if strip.low is None else _tidy(shifted(strip.low, axis, begin - start_of(strip.piece, axis)))
        node = replace(strip, piece=between(first, axis, begin, end), kerf=place.kerf, low=low, high=node)
    if not isinstance(node, Cut):
        raise TypeError("a chain has at least one cut")
    return node
