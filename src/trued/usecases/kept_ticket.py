"""The cuts of a kept plan, as the person at the saw sees them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from trued.units import Unit
from trued.usecases.json_node import Node
from trued.usecases.plan_words import small


@dataclass(frozen=True, slots=True)
class KeptTicket:
    """One cut as the person at the saw sees it; number counts from 1. said: the number to set, or where
    to mark a line; "" where there is neither."""

    id: str
    number: int
    station: str
    said: str
    beside: str
    true: str
    new_setting: bool
    piece: str
    parts: tuple[str, ...]
    text: str
    face: str
    edge: str
    first: str
    cautions: tuple[str, ...]
    after: tuple[str, ...]
    done: bool


def tickets_of(told: Node, unit: Unit, done: set[str]) -> Iterator[KeptTicket]:
    """The cuts in their order; `done`: ids of those that are done."""
    for number, ticket in enumerate(told["order"], 1):
        text = ticket["scale_text"].text or ticket["wanted_text"].text
        number_said, _, beside = text.partition(" (")
        yield KeptTicket(
            id=ticket["id"].text,
            number=number,
            station=ticket["station"].text,
            said=number_said,
            beside=beside.rstrip(")"),
            true=_true(ticket, unit),
            new_setting=ticket["new_setting"].true,
            piece=ticket["piece"].text,
            parts=ticket["parts"].texts,
            text=ticket["text"].text,
            face=ticket["face"].text,
            edge=ticket["edge"].text,
            first=ticket["first"].text,
            cautions=ticket["cautions"].texts,
            after=ticket["after"].texts,
            done=ticket["id"].text in done,
        )


def _true(ticket: Node, unit: Unit) -> str:
    """What true size the scale then gives."""
    wanted, left = ticket["wanted_text"].text, ticket["remainder_mm"].number
    if not wanted:
        return ""
    if not ticket["setting"]:
        return ""
    if ticket["setting_mm"].number is None:
        return f"for a true {wanted}; not corrected, because no shop is known"
    if left is None or abs(left) < 0.005:
        return f"for a true {wanted}"
    return f"for a true {wanted}; expected {small(abs(left), unit)} {'over' if left > 0 else 'under'} it"
