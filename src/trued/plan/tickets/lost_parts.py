"""Parts that come of a cut which no station may make: named, with each station's reason and what could make them."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from trued.plan.layout.cut_tree import Axis, parts
from trued.plan.layout.pieces import to_mm
from trued.plan.not_made import NotMade
from trued.plan.order.order import Lost, Order
from trued.plan.stations.refusal import TOO_THICK

BY_HAND = "with a hand saw"


def lost_parts(order: Order | None, length: Callable[[float], str]) -> tuple[NotMade, ...]:
    """Every copy that is not made, in the order of the layout; `length` writes millimetres."""
    return tuple(one for lost in (order.lost if order is not None else ()) for one in _of(lost, length))


def _of(lost: Lost, length: Callable[[float], str]) -> Iterator[NotMade]:
    refused = lost.ruling.refused
    code = TOO_THICK if all(refusal.code == TOO_THICK for refusal in refused) else "no-station"
    verb = "crosscut" if lost.cut.axis is Axis.ACROSS else "ripped"
    why = "; ".join(dict.fromkeys(refusal.text(length).rstrip(".") for refusal in refused))
    ways = [way for refusal in refused if (way := refusal.way(length))]
    could = f"It could be: {', or '.join(dict.fromkeys((*ways, BY_HAND)))}."
    thick = length(to_mm(lost.used.stock.thickness))
    for part in parts(lost.cut):
        name = f"{part.want}@{part.copy}"
        yield NotMade(name, code, f"{name} ({thick} thick) cannot be {verb} here: {why}.", could)
