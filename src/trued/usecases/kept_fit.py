"""The fits of a kept plan, and whether it all goes together, as they were told."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from trued.plan.problem import SHORT
from trued.shapes import Drawing
from trued.units import Unit
from trued.usecases.fit_drawing import fit_picture
from trued.usecases.json_node import Node
from trued.usecases.plan_words import (
    bracketed,
    chance_words,
    held_back_words,
    limits_words,
    not_seen_words,
    small,
    with_test_pieces_words,
)


@dataclass(frozen=True, slots=True)
class KeptFit:
    """One fit in words; `drawing` None while no spread is known.

    beside: what stands beside the chance where it does not rest on this shop.
    """

    name: str
    needed: str
    expected: str
    spread: str
    chance: str
    beside: str
    sure: bool
    because: tuple[str, ...]
    drawing: Drawing | None


def is_short(told: Node) -> bool:
    """Whether parts have no place in the stock."""
    return any(problem["code"].text in SHORT for problem in told["problems"])


def together_of(told: Node) -> str:
    """Whether all fits hold in one and the same piece; "" where it was not told or there is one fit only."""
    chance = told["job_chance"].number
    fits = list(told["fits"])
    if chance is None or len(fits) < 2 or is_short(told):
        return ""
    least = min(fits, key=lambda fit: fit["chance"].number or 0.0)
    return f"{chance_words(chance)}{bracketed(_not_seen(least))}"


def better_of(told: Node) -> Iterator[str]:
    """What would make it likelier: the stop corrected by first parts, parts cut to an opening that is measured."""
    first = with_test_pieces_words(told["job_chance"].number, told["job_chance_with_test_pieces"].number)
    if first and not is_short(told):
        yield first
    for one in told["cut_to_fit"]:
        yield held_back_words(one["part"].text, one["side"].text, one["fit"].text, one["then"].number or 0.0)


def _not_seen(fit: Node) -> str:
    shares = {label: share.number or 0.0 for label, share in fit["shares"].items()}
    return not_seen_words(shares, fit["assumed"].texts)


def fit_of(fit: Node, unit: Unit) -> KeptFit:
    """One fit of the plan."""
    from trued.usecases.plan_view import FitView

    low, high = fit["limits_mm"][0].number, fit["limits_mm"][1].number
    mean, sd, chance = fit["mean_mm"].number or 0.0, fit["sd_mm"].number, fit["chance"].number
    within = [node.number for node in fit["interval95_mm"]]
    between = [small(x, unit) for x in within if x is not None]
    needed = limits_words(FitView("", 0.0, (low, high), None), unit)
    assumed = set(fit["assumed"].texts)
    shares = [(label, share.number or 0.0) for label, share in fit["shares"].items()]
    return KeptFit(
        name=fit["name"].text,
        needed=needed,
        expected=small(mean, unit),
        spread=" and ".join(between),
        chance="not known: no shop is known" if chance is None else chance_words(chance),
        beside="" if chance is None else _not_seen(fit),
        sure=chance is not None and chance >= 0.95,
        because=tuple(f"{label}{' (assumed)' if label in assumed else ''}" for label, share in shares if share >= 0.05),
        drawing=None
        if not sd
        else fit_picture(
            fit["name"].text, mean, sd, (low, high), dict(shares), tuple(assumed), chance_words(chance or 0.0), unit
        ),
    )
