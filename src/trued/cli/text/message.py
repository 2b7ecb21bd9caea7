"""An answer on a terminal: first line, dangers, orders, figures; `--more` prints the same, then what lies behind."""

from __future__ import annotations

from collections.abc import Iterator

from trued.cli.lines import wrapped
from trued.usecases.runs.asked_with import at_angle
from trued.words.message import Figure, Message, Order


def message_lines(message: Message, foot: tuple[str, ...] = (), *, more: bool = False) -> Iterator[str]:
    """The lines. `foot`: what the terminal adds: what was saved, and how it is undone."""
    yield wrapped(message.headline)
    yield ""
    yield from (wrapped(f"WARNING  {text}") for text in message.dangers)
    yield from (wrapped(text) for text in message.why)
    if message.unsafe:
        checks = ", ".join(f"{one.check} {one.minutes:.0f} min" for one in message.unsafe)
        yield wrapped(f"WARNING  Not checked, and someone can get hurt: {checks}")
    if message.orders and (message.dangers or message.why or message.unsafe):
        yield ""
    warned: set[str] = set()
    for number, order in enumerate(message.orders):
        yield from _order(order, warned, then=bool(number))
    yield from _follow(message.orders, warned)
    if message.orders and message.figures:
        yield ""
    yield from _figures(message.figures)
    for section in message.sections:
        yield ""
        yield section.title
        yield from _figures(section.figures, "  ")
    if message.sections:
        yield ""
    yield from (wrapped(text) for text in message.asides)
    yield from foot
    if more:
        for fold in message.folds:
            yield ""
            yield fold.title
            yield from (wrapped(text, "  ") for text in fold.lines)


def _order(order: Order, warned: set[str], *, then: bool) -> Iterator[str]:
    yield wrapped(f"{'Then: ' if then else ''}{order.text}")
    for warning in order.warnings:
        if warning not in warned:  # once in an answer, before the first order that needs it
            warned.add(warning)
            yield wrapped(f"WARNING  {warning}", "  ")
    yield from (wrapped(f"{number}. {step}", "  ") for number, step in enumerate(order.steps, 1))
    if order.run is not None:
        yield f"  trued check {order.run.check}{at_angle(order.run.feature)}  ({order.run.minutes:.0f} min)"
    if order.record is not None:
        typed = f"{order.record.feature} {order.record.direction} {order.record.amount}".rstrip()
        yield f"Record it:  trued moved {typed}"


def _follow(orders: tuple[Order, ...], warned: set[str]) -> Iterator[str]:
    """The run that follows all that is done by hand, once, with its warnings."""
    for check in dict.fromkeys(order.check for order in orders if order.check is not None):
        yield wrapped(f"Then {check.name}.")
        for warning in check.warnings:
            if warning not in warned:
                warned.add(warning)
                yield wrapped(f"WARNING  {warning}", "  ")


def _figures(figures: tuple[Figure, ...], indent: str = "") -> Iterator[str]:
    widest = max((len(one.name) for one in figures), default=0)
    for one in figures:
        rest = [one.value, *(part for part in (one.limit, one.sure) if part)]
        yield wrapped(f"{one.name:<{widest}}  {'    '.join(rest)}".rstrip(), indent)
