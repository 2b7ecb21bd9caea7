"""Which setting gave every part its length and its width: what the error budget needs to know of the order."""

from __future__ import annotations

from collections.abc import Iterator

from trued.job.groups import CutGroup, CutGroups
from trued.plan.order import Done, Order
from trued.plan.tree import Axis, Cut, Node, Part, Used


def groups_of(used: tuple[Used, ...], order: Order) -> CutGroups:
    """Every copy with the settings of the last cut across and the last cut along that made it.

    A size that no cut made (the stock was as long or as wide) has the setting "".
    """
    made = {id(done.task.cut): done for done in order.cuts}
    groups: dict[tuple[str, int], CutGroup] = {}
    for piece in used:
        for part, above in _paths(piece.tree, ()):
            across, along = _last(above, Axis.ACROSS), _last(above, Axis.ALONG)
            length, width = (along, across) if part.turned else (across, along)
            station = made[id(length)].task.key[0].value if length is not None else ""
            groups[part.want, part.copy] = CutGroup(
                _setting(made, length), _setting(made, width), station, f"{piece.stock.id}/{piece.copy}"
            )
    return CutGroups(groups)


def _paths(node: Node | None, above: tuple[Cut, ...]) -> Iterator[tuple[Part, tuple[Cut, ...]]]:
    if isinstance(node, Part):
        yield node, above
    elif isinstance(node, Cut):
        for child in (node.low, node.high):
            yield from _paths(child, (*above, node))


def _last(above: tuple[Cut, ...], axis: Axis) -> Cut | None:
    return next((cut for cut in reversed(above) if cut.axis is axis), None)


def _setting(made: dict[int, Done], cut: Cut | None) -> str:
    if cut is None:
        return ""
    done = made[id(cut)]
    return f"S{done.setting}" if done.setting else f"C{done.index + 1}"
