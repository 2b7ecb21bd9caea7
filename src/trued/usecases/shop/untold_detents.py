"""Detents of older books: their checks did not ask for the angle. Asked once, one answer settles all of a fixture.

Until it is answered such a run is of the detent `@?`, in no fit, and nothing is ordered by it. A ring tells its angle
by its pieces (180° over their number) and its side by what was read; ten engagements tell neither.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from trued.equipment.fence_swing import SWINGS, UNTOLD, Turned, plain_degrees, turned_of
from trued.errors import InputRefused

if TYPE_CHECKING:
    from trued.store.rows import AnswerRow, StoredRun

RING, REPEAT = "detent-angle", "detent-repeat"
CODE = "detents-of-"  # and the fixture that it is asked about
RINGS, UNKNOWN = "rings", "unknown"


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


def _detent(word: str) -> Turned | None:
    try:
        turned = turned_of(word)
    except InputRefused:
        return None
    return turned if turned.degrees and turned.swing in SWINGS else None
