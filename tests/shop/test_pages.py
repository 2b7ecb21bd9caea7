"""The pages name every key of the shop file, every event and every blunder."""

from pathlib import Path

import pytest

from trued.measure.instrument import KINDS as INSTRUMENT_KINDS
from trued.shop.arrival import BACKLASH, CLAMPED
from trued.shop.event import EVENTS
from trued.shop.facts import FACTS, fact_names
from trued.shop.fixture import KINDS
from trued.shop.response import HYPOTHESES
from trued.shop.saw import BANS

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
