"""Detents of older books: their checks did not ask for the angle. Asked once, one answer settles all of a fixture.

Until it is answered such a run is of the detent `@?`, in no fit, and nothing is ordered by it. A ring tells its angle
by its pieces (180° over their number) and its side by what was read; ten engagements tell neither.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from trued.errors import InputRefused, Question
from trued.shop.turned import SWINGS, UNTOLD, Turned, plain_degrees, turned_of

if TYPE_CHECKING:
    from trued.store.rows import AnswerRow, StoredRun
    from trued.usecases.shop_now import ShopNow

RING, REPEAT = "detent-angle", "detent-repeat"
CODE = "detents-of-"  # and the fixture that it is asked about
RINGS, UNKNOWN = "rings", "unknown"
USUAL = (22.5, 30.0, 45.0)  # degrees; detents of the trade, common practice


def detent_words(answers: Iterable[AnswerRow]) -> dict[str, str]:
    """What was answered, by fixture; the last answer counts."""
    return {a.code.removeprefix(CODE): a.word for a in answers if a.code.startswith(CODE)}


def untold(stored: StoredRun) -> bool:
    """Whether it is a run at a detent whose angle was not asked for."""
    return stored.run.check in (RING, REPEAT) and "angle" not in stored.run.facts


def told_facts(stored: StoredRun, words: Mapping[str, str]) -> Mapping[str, str]:
    """The facts of a run, with the angle and side that the person has answered for it.

    A ring that closes at another angle than the answer stays without one: it is another detent.
    """
    facts, word = stored.run.facts, words.get(stored.run.fixture, UNKNOWN)
    if not untold(stored) or word == UNKNOWN:
        return facts
    ring = ring_of(stored)
    turned = ring if word == RINGS else _detent(word)
    if turned is None or turned.degrees is None or (ring is not None and ring != turned):
        return facts
    return {**facts, "angle": plain_degrees(turned.degrees), "swing": turned.swing}


def move_told(feature: str, words: Mapping[str, str]) -> str:
    """The full name of what was moved: a detent whose angle was not told is the one that was answered."""
    lead, at, suffix = feature.partition("@")
    if suffix != UNTOLD:
        return feature
    turned = _detent(words.get(lead.rpartition(".")[0], UNKNOWN))
    return feature if turned is None else f"{lead}{at}{turned.suffix}"


def ring_of(stored: StoredRun) -> Turned | None:
    """The detent that a ring tells of; None where the run is none."""
    pieces = [reading for reading in stored.readings if reading.name == "piece"]
    swung = next((reading.typed.strip().lower() for reading in stored.readings if reading.name == "swung"), "")
    return Turned(round(180.0 / len(pieces), 6), swung) if pieces and swung in SWINGS else None


def detent_questions(now: ShopNow) -> Iterator[Question]:
    """One question for each fixture, about its first run without an angle."""
    from trued.usecases.shop_now import opened

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


def _detent(word: str) -> Turned | None:
    try:
        turned = turned_of(word)
    except InputRefused:
        return None
    return turned if turned.degrees and turned.swing in SWINGS else None
