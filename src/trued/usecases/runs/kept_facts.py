"""Facts of a fixture that were typed with a check are kept with the fixture, so that they are typed once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from trued.equipment.fixture import Fixture
from trued.equipment.fixture_facts import FACTS, read_fact
from trued.equipment.shop import Shop
from trued.procedure import Check
from trued.standing.owner import owner_of
from trued.units import Unit


def with_typed_facts(check: Check, given: Mapping[str, str], shop: Shop, fixture: str, unit: Unit) -> Shop:
    """The shop with what was typed of the fixture that the check was made with, where the book did not have it.

    In a book without any fixture the check of a sled describes one; what is of one run alone is not kept. A fact that
    the book has and that was typed otherwise is refused before this.
    """
    lasting = {fact.name for fact in check.facts if not fact.of_run}
    thing = next((f for f in shop.fixtures if f.id == fixture), None)
    if thing is None:
        named = owner_of(check.names[0], shop)
        if shop.fixtures or named != "sled":
            return shop
        thing = Fixture(named, "crosscut-sled")
    known = FACTS[thing.kind]
    new = {
        name: read_fact(known[name], text, unit)
        for name, text in given.items()
        if name in lasting and name in known and name not in thing.facts
    }
    if not new:
        return shop
    kept = replace(thing, facts={**thing.facts, **new})
    others = tuple(kept if f.id == kept.id else f for f in shop.fixtures)
    return replace(shop, fixtures=others if thing in shop.fixtures else (*others, kept))
