"""Which detent were the runs at that were kept without the angle? One question for each fixture."""

from __future__ import annotations

from collections.abc import Iterator

from trued.equipment.fence_swing import SWINGS, UNTOLD, Turned
from trued.errors import Question
from trued.store.rows import StoredRun
from trued.usecases.shop.shop_now import ShopNow, opened
from trued.usecases.shop.untold_detents import CODE, REPEAT, RING, RINGS, UNKNOWN, ring_of, untold

USUAL = (22.5, 30.0, 45.0)  # degrees; detents of the trade, common practice


def detent_questions(now: ShopNow) -> Iterator[Question]:
    """One question for each fixture, about its first run without an angle."""
    if not any(feature.endswith(f"@{UNTOLD}") for feature in now.known.features):
        return
    with opened(now.path) as book:
        runs = [run for check in (RING, REPEAT) for run in book.runs(check=check, until=now.now) if untold(run)]
    for fixture in dict.fromkeys(run.run.fixture for run in runs):
        mine = sorted((run for run in runs if run.run.fixture == fixture), key=lambda run: run.run.taken)
        yield _question(fixture, mine, now)


def _question(fixture: str, runs: list[StoredRun], now: ShopNow) -> Question:
    rings = list(dict.fromkeys(ring for run in runs if (ring := ring_of(run)) is not None))
    each = ", ".join(ring.text for ring in rings)
    named = next((f.detents for f in now.shop.fixtures if f.id == fixture), None)
    detents = [Turned(degrees, swing) for swing in SWINGS for degrees in (named.of(swing) if named is not None else ())]
    usual = [Turned(degrees, swing) for swing in ("closed", "open") for degrees in USUAL]
    choices = [(ring.suffix, f"All of them at {ring.text}") for ring in (rings or detents or usual)]
    if len(rings) > 1:
        choices = [(RINGS, f"Each ring at its own: {each}")]
    many = f"{len(runs)} detent runs were" if len(runs) > 1 else "A detent run was"
    text = f"{many} kept without the angle ({fixture or 'the fixture'}). At which detent?"
    return Question(f"{CODE}{fixture}", runs[0].run.id, text, (*choices, (UNKNOWN, "Not known: in no fit")))
