"""What a person needs before the first reading of a check, in this shop."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from trued.drawing.shapes import Drawing
from trued.equipment.shop import Shop
from trued.procedure import Check, Kind, RunInput, SetupFact
from trued.procedure.reading import read_fact
from trued.units import Unit, show_length
from trued.usecases.runs.keep_run import fixture_for, ground_of, merged_facts
from trued.usecases.shop.list_checks import one_check
from trued.usecases.shop.shop_now import shop_now


@dataclass(frozen=True, slots=True)
class KnownFact:
    """A fact that the book holds, as a person reads it."""

    name: str
    text: str
    value: str


@dataclass(frozen=True, slots=True)
class CheckForm:
    """A check within a shop.

    drawing:     this person's saw, before anything was found.
    known:       the facts that the book holds. asked: those that it lacks.
    fixture:     the one in use, "" for none. fixtures: those to choose from.
    instruments: the person's own, id and kind. notes: what should be true first, and is not known to be.
    """

    check: Check
    unit: Unit
    drawing: Drawing
    known: tuple[KnownFact, ...]
    asked: tuple[SetupFact, ...]
    fixture: str
    fixtures: tuple[str, ...]
    instruments: tuple[tuple[str, str], ...]
    notes: tuple[str, ...]


def check_form(id: str, book: Path, fixture: str = "") -> CheckForm:
    """The form of check `id`; InputRefused when there is no such check or fixture."""
    check = one_check(id)
    now = shop_now(book)
    shop = now.shop
    in_use = fixture_for(check, shop, fixture)
    facts = merged_facts(check, {}, shop, in_use)
    values = {fact.name: read_fact(fact, facts[fact.name], shop.unit) for fact in check.facts if fact.name in facts}
    return CheckForm(
        check=check,
        unit=shop.unit,
        drawing=check.draw(RunInput(check, (), values, shop.unit), ()),
        known=tuple(_known(check, values, facts, shop.unit)),
        asked=tuple(fact for fact in check.facts if fact.name not in facts and not _read(check, fact)),
        fixture=in_use,
        fixtures=_fixtures(shop),
        instruments=tuple((instrument.id, instrument.kind) for instrument in shop.instruments),
        notes=tuple(seen.text for seen in ground_of(check, now, in_use)),
    )


def _read(check: Check, fact: SetupFact) -> bool:
    """Whether the check reads it as an answer of its own: the side of the fence is asked once."""
    return fact.name == "swing" and any(ask.name == "swung" for ask in check.asks)


def _fixtures(shop: Shop) -> tuple[str, ...]:
    return tuple(fixture.id for fixture in shop.in_use if fixture.kind != "wing")


def _known(check: Check, values: dict[str, str | float], facts: dict[str, str], unit: Unit) -> Iterator[KnownFact]:
    for fact in check.facts:
        value = values.get(fact.name)
        if value is None:
            continue
        said = show_length(value, unit) if fact.kind is Kind.LENGTH and isinstance(value, float) else facts[fact.name]
        yield KnownFact(fact.name, fact.text, f"{said} in" if said != facts[fact.name] and unit == "in" else said)
