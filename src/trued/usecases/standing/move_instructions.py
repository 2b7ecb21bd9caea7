"""How the next step is done by hand: the check's own instruction, for what all runs together lead to.

What is believed of a feature knows that it is out and how far to turn it; how that is done, and what must not be done
before, is known to the check that found it. Its words are asked for with the amount that is ordered now.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

from trued.advice.next_action import approach_said
from trued.advice.preposterior import target_of
from trued.equipment.fixture_facts import facts_for
from trued.equipment.shop import Shop
from trued.errors import InputRefused
from trued.measure.estimate import UncertainValue
from trued.procedure import Check, FeatureResult, Move, Need, RunInput, take, turn_of
from trued.standing.feature import full_name, named
from trued.standing.feature_status import ActionKind, FeatureStatus, NextAction
from trued.units import Unit
from trued.usecases.shop.shop_now import ShopNow, as_check, opened
from trued.usecases.shop.untold_detents import detent_words, told_facts

if TYPE_CHECKING:
    from trued.store.book import Book


def in_words(
    now: ShopNow, standings: Iterable[FeatureStatus], among: Iterable[FeatureStatus] | None = None
) -> tuple[FeatureStatus, ...]:
    """The same standings; what is to be turned or mended has its check's instruction as its next step.

    among: what is believed of all features of their checks, where `standings` are not all of them.
    """
    every = tuple(standings)
    if not any(_by_hand(standing.next) for standing in every):
        return every
    believed = {standing.feature: standing for standing in (every if among is None else among)}
    with opened(now.path) as book:

        @cache
        def run(id: str) -> tuple[RunInput, str] | None:
            return _last_run(book, now, id)

        return tuple(_in_words(standing, believed, run(_run_of(now, standing))) for standing in every)


def _by_hand(step: NextAction | None) -> bool:
    return step is not None and (step.mends or (step.do is ActionKind.MOVE and bool(step.approach)))


def _run_of(now: ShopNow, standing: FeatureStatus) -> str:
    """The last run that counts for it; "" where nothing is to be done by hand."""
    state = now.known.features.get(standing.feature)
    return state.last.run if state is not None and _by_hand(standing.next) else ""


def _last_run(book: Book, now: ShopNow, id: str) -> tuple[RunInput, str] | None:
    """What was taken in a run, and what its features are of."""
    stored = book.run(id) if id else None
    if stored is None:
        return None
    check, typed, facts = as_check(stored)
    unit: Unit = "mm" if stored.run.unit == "mm" else "in"
    try:
        as_now = {**facts, **_as_built_now(check, now.shop, stored.run.fixture)}
        turn = turn_of(check, told_facts(stored, detent_words(book.answers())))
        return take(check, typed, as_now, instruments=now.instruments, unit=unit), turn
    except InputRefused:
        return None


def _as_built_now(check: Check, shop: Shop, fixture: str) -> dict[str, str]:
    """Where a fixture's parts are and which way they go as the book has it today: for words and moves, not for what
    was found then."""
    known = facts_for(shop, fixture) if fixture else {}
    return {f.name: known[f.name] for f in check.facts if f.name in known and f.needed_for is not Need.VALUE}


def _in_words(
    standing: FeatureStatus, believed: dict[str, FeatureStatus], run: tuple[RunInput, str] | None
) -> FeatureStatus:
    step = standing.next
    if step is None or run is None or not _by_hand(step):
        return standing
    taken, angle = run
    move = _move(standing, step, taken, believed, angle)
    if move is None or (step.do is ActionKind.MOVE and move.direction != step.direction):
        return standing
    text = move.text if step.mends else f"{move.text}{_play(step, move)}"
    return replace(standing, next=replace(step, text=text))


def _play(step: NextAction, move: Move) -> str:
    """How the play of the screw is taken up; brought to a block, a gauge or a shim of a known size it has none."""
    return f" {approach_said()}" if move.amount_mm is None and step.direction != step.approach else ""


def _move(
    standing: FeatureStatus, step: NextAction, taken: RunInput, believed: dict[str, FeatureStatus], angle: str
) -> Move | None:
    """What its check would say, had it found just what is believed, or just what is ordered."""
    thing = named(standing.feature).thing
    founds = tuple(_as_believed(found, thing, angle, standing, step, believed) for found in taken.check.evaluate(taken))
    bare = named(standing.feature).feature
    return next((move for move in taken.check.moves(taken, founds) if move.feature == bare), None)


def _as_believed(
    found: FeatureResult,
    thing: str,
    angle: str,
    standing: FeatureStatus,
    step: NextAction,
    believed: dict[str, FeatureStatus],
) -> FeatureResult:
    """A feature as all runs together have it; the one that is turned as far off as it is turned."""
    own = believed.get(full_name(thing, found.feature, angle))
    if own is None or own.unit != found.unit:
        return found
    if own.feature != standing.feature or step.amount is None:
        return replace(found, value=own.x, limits=own.limits)
    by = step.amount if step.direction == step.approach else -step.amount
    return replace(found, value=UncertainValue(target_of(own.limits) + by), limits=own.limits)
