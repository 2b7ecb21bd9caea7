"""Record what was really turned."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from trued.equipment.fixture import Fixture
from trued.equipment.shop import Shop
from trued.errors import InputRefused
from trued.standing.amounts.hand import Hand, hand_of
from trued.standing.feature import Feature, feature_of, named, said
from trued.standing.feature_status import FeatureStatus
from trued.standing.history.old_names import now_called
from trued.standing.typed_name import name_typed
from trued.store.rows import MoveRow
from trued.units import read_angle, read_length, read_turns
from trued.usecases.changes.adjustments import order_here
from trued.usecases.changes.odd_move import TOLD, UNLIKE, Odd
from trued.usecases.questions.asking import keep_answers, settle, word_for
from trued.usecases.questions.clock import of_features, time_asked
from trued.usecases.questions.once import place_of_row
from trued.usecases.shop.shop_now import opened, read_now

if TYPE_CHECKING:
    from trued.store.kept.standing_rows import Row


FARTHEST = {"rad": math.radians(3.0), "mm": 25.4}
"""No adjustment is turned by more: common practice."""
TOO_FAR = (
    "That is too much for one move (1 in or 3° at most). Another unit? Reset it? Record the event 'Fence screw or zero "
    "stop touched'."
)


@dataclass(frozen=True, slots=True)
class MoveView:
    """The move as kept: `amount` in `unit` (rad or mm) of the feature, in one of its two directions.

    said: how far in the unit that the hand reads, and what was typed where that was another; hand: that amount.
    """

    id: str
    feature: str
    direction: str
    amount: float
    unit: str
    typed: str
    at: datetime
    standing: FeatureStatus | None
    said: str = ""
    hand: Hand | None = None
    order: str = ""


def record_move(
    feature: str,
    direction: str,
    typed: str,
    book: Path,
    *,
    at: datetime | None = None,
    device: str = "",
    key: str | None = None,
    answers: Sequence[str] = (),
) -> MoveView:
    """`typed` is a length at the adjusting point, turns of its screw (`1/24turn`), or an angle.

    `key` is the move's id when the writer has made one: the same key twice is one move, and what differs under it is
    asked about. `answers` are those to what this call asked before (`Asks`).
    """
    with opened(book) as kept:
        now = read_now(kept, book, at)
        full = name_typed(feature, now.shop)
        known = feature_of(full)
        if named(full).turned.degrees is None:
            text = f"Say at which angle: {full.replace('?', '45closed')} or {full.replace('?', '45open')}."
            raise InputRefused.of("feature", feature, text)
        direction = now_called("direction", direction, named(full).feature)
        if known.directions is None:
            raise InputRefused.of("feature", feature, f"{said(feature)} can't be adjusted.")
        if direction not in known.directions:
            ways = " or ".join(known.directions)
            raise InputRefused.of("direction", direction, f"{said(feature)} is moved {ways}.")
        amount = amount_of(known, full, typed, now.shop)
        if amount > FARTHEST[known.unit]:
            raise InputRefused.of("amount", typed, TOO_FAR)
        content = (full, direction, typed)
        as_told = {row.about for row in kept.answers() if (row.code, row.word) == (UNLIKE, TOLD)} if answers else set()
        place = place_of_row(
            kept, key, repr(content), MoveRow, lambda row: _content(row) == content or row.id in as_told
        )
        if isinstance(place.there, MoveRow):
            row = place.there
        else:
            time = time_asked(kept, at, now.now, of_features([full]))
            settled = settle((*place.questions, *time.questions), answers)
            row = MoveRow(place.id, full, time.moment(settled), typed, amount, known.unit, direction, device or None)
            if isinstance(slip := place.instead_of(settled), MoveRow):
                row = replace(row, at=at or slip.at, supersedes=slip.id)
            else:
                odd = Odd.of(row, now, kept.moves(feature=full))
                before = (*place.questions, *time.questions)
                rest = [text for text in answers if all(word_for(q, [text]) is None for q in before)]
                settled = (*settled, *settle(odd.questions(), rest))
                row = odd.kept(settled)
            if row.id == place.id:
                time.mend(kept, settled)
                kept.add_move(row)
                keep_answers(kept, settled, row.id, now.now, device)
        after = read_now(kept, book, None if at is None else max(at, row.at))
        standing = next((s for s in after.standings() if s.feature == full), None)
        hand = hand_of(row.amount, row.unit, full, now.shop)
        told = _as_the_hand_reads(row.typed, hand)
        order = order_here(full, row.direction, now.shop)
        return MoveView(
            row.id, full, row.direction, row.amount, row.unit, row.typed, row.at, standing, told, hand, order
        )


def _content(row: Row) -> tuple[str, str, str] | None:
    return (row.feature, row.direction, row.typed) if isinstance(row, MoveRow) else None


def _as_the_hand_reads(typed: str, hand: Hand) -> str:
    """What was turned in the one unit of its order; beside it what was typed, where that was another."""
    bare = not any(sign.isalpha() or sign in "°\"'" for sign in typed)
    squeezed = "".join(typed.lower().split())
    same = bare or squeezed.endswith(("deg", "°") if hand.unit == "deg" else hand.unit)
    return hand.text if same else f"{hand.text} (typed as {typed.strip()})"


def amount_of(known: Feature, full: str, typed: str, shop: Shop) -> float:
    """What was turned, in the feature's own unit."""
    fixture = next((f for f in shop.fixtures if f.id == named(full).thing), None)
    if known.unit == "rad" and fixture is None:
        return _positive(_angle(typed, full), typed)
    if "turn" in typed:
        mm = read_turns(typed, where="amount") * _needed(fixture, "thread", "turns need the thread of the screw")
    else:
        try:
            angle = read_angle(typed, where="amount")
        except InputRefused:
            mm = read_length(typed, shop.unit, where="amount").mm
        else:
            if known.unit != "rad":
                raise InputRefused.of("amount", typed, f"{said(full)} is moved by a length, not an angle.")
            return _positive(angle, typed)
    if known.unit == "rad":
        radius = _needed(fixture, "radius", "a length at the screw needs the distance from the pivot")
        return _positive(math.atan2(mm, radius), typed)
    return _positive(mm, typed)


def _angle(typed: str, full: str) -> float:
    """Of what has no adjusting point that the book knows: the saw's own tilt stops."""
    try:
        return read_angle(typed, where="amount")
    except InputRefused:
        text = f"{said(full)} moves by an angle: type it with its unit, as 0.088deg or 0.0183in/ft."
        raise InputRefused.of("amount", typed, f"{text[:1].upper()}{text[1:]}") from None


def _positive(amount: float, typed: str) -> float:
    if amount <= 0.0:
        raise InputRefused.of("amount", typed, "A move is more than 0; its way is said by the direction.")
    return amount


def _needed(fixture: Fixture | None, fact: str, why: str) -> float:
    value = fixture.number(fact) if fixture is not None else None
    if value is None:
        raise InputRefused.of(
            fact,
            "",
            f"The book has no {fact} for this fixture: {why}. Add it to the shop's file, or type an angle, as 0.03deg.",
        )
    return value
