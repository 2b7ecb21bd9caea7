"""The pages name every key of the shop file, every event and every blunder."""

from pathlib import Path

import pytest

from trued.equipment.fixture import KINDS
from trued.equipment.fixture_facts import FACTS, fact_names
from trued.equipment.saw import BANS
from trued.measure.instrument import KINDS as INSTRUMENT_KINDS
from trued.standing.filtered.gain_mixture import HYPOTHESES
from trued.standing.filtered.observed_gain import BACKLASH, CLAMPED
from trued.standing.history.event import EVENTS

DOCS = Path(__file__).parents[2] / "docs"
SHOP = (DOCS / "shop.md").read_text(encoding="utf-8")
STANDING = (DOCS / "standing.md").read_text(encoding="utf-8")
FACT_WORDS = {word for facts in FACTS.values() for fact in facts.values() for word in fact.words} - {"yes", "no"}
KEYS = {name for kind in KINDS for name in fact_names(kind)}


@pytest.mark.parametrize("word", sorted({*KINDS, *INSTRUMENT_KINDS, *BANS, *KEYS, *FACT_WORDS}))
def test_the_shop_page_names(word: str) -> None:
    assert f"`{word}`" in SHOP


@pytest.mark.parametrize("word", [*EVENTS, *(h.blunder for h in HYPOTHESES if h.blunder), CLAMPED, BACKLASH])
def test_the_standing_page_names(word: str) -> None:
    assert f"`{word}`" in STANDING
