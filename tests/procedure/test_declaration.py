"""A declaration that contradicts itself cannot be built."""

from dataclasses import replace

import pytest
from tests.procedure.checks import GAP

from trued.procedure import Kind, ReadingSpec, SetupFact, Step


def test_asks() -> None:
    for wrong in (
        lambda: ReadingSpec("two words", "text"),
        lambda: ReadingSpec("name", ""),
        lambda: ReadingSpec("name", "text", kind=Kind.CHOICE),
        lambda: ReadingSpec("name", "text", choices=("yes",)),
        lambda: ReadingSpec("name", "text", need=(3, 2)),
        lambda: ReadingSpec("name", "text", need=(1, 5), advise=6),
        lambda: ReadingSpec("name", "text", stations=2, least=1),
        lambda: ReadingSpec("name", "text", stations=("a", "b"), least=3),
    ):
        with pytest.raises(ValueError, match="name"):
            wrong()


def test_facts() -> None:
    with pytest.raises(ValueError, match="side: choices"):
        SetupFact("side", "text")
    with pytest.raises(ValueError, match="side: choices"):
        SetupFact("side", "text", kind=Kind.LENGTH, choices=("a",))


def test_checks() -> None:
    with pytest.raises(ValueError, match="declared twice: gap"):
        replace(GAP, asks=(*GAP.asks, ReadingSpec("gap", "again")))
    with pytest.raises(ValueError, match="no step serves more"):
        replace(GAP, asks=(*GAP.asks, ReadingSpec("more", "more")))
    with pytest.raises(ValueError, match="unknown asks other"):
        replace(GAP, steps=(*GAP.steps, Step("and", ("other",))))
    for empty in ("features", "cautions", "sources", "at_hand"):
        with pytest.raises(ValueError, match="must be given"):
            replace(GAP, **{empty: ()})


def test_an_ask_by_name() -> None:
    assert GAP.ask("gap").kind is Kind.GAP
    with pytest.raises(KeyError, match="no ask 'zz'"):
        GAP.ask("zz")
