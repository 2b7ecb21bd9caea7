"""What came with the form of a check, and the same as it would be typed on the command line.

Names in the form: `r.NAME` or `r.NAME@PLACE` a reading, `at.NAME` the length that stands for its place,
`with.NAME` what it was read with, `f.NAME` a fact of the fixture.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from starlette.datastructures import FormData

from trued.units import Unit
from trued.usecases.views import Check, ReadingSpec
from trued.web.page_context import key_of, new_key, text_of, texts_of

MOST_FIELDS = 60
"""Of one reading at one place; no check asks for more."""


@dataclass(frozen=True, slots=True)
class Sent:
    """What stands in the fields of a form, as typed; nothing in a fresh one."""

    key: str
    unit: Unit
    fixture: str = ""
    readings: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    places: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    read_with: Mapping[str, str] = field(default_factory=dict)
    facts: Mapping[str, str] = field(default_factory=dict)
    more: str = ""

    def values(self, name: str, place: str = "") -> tuple[str, ...]:
        """The fields of one reading at one place."""
        return self.readings.get(f"{name}@{place}" if place else name, ())


def fresh(unit: Unit, fixture: str) -> Sent:
    """A form that nobody has typed into."""
    return Sent(new_key(), unit, fixture)


def read_sent(check: Check, form: FormData, unit: Unit) -> Sent:
    """The fields that this check has; others are not looked at."""
    given = text_of(form, "unit")
    return Sent(
        key=key_of(form),
        unit="in" if given == "in" else "mm" if given == "mm" else unit,
        fixture=text_of(form, "fixture"),
        readings={name: _typed(form, f"r.{name}") for ask in check.asks for name in field_names(ask)},
        places={ask.name: _typed(form, f"at.{ask.name}") for ask in check.asks if by_length(ask)},
        read_with={ask.name: with_ for ask in check.asks if (with_ := text_of(form, f"with.{ask.name}"))},
        facts={fact.name: text.strip() for fact in check.facts if (text := text_of(form, f"f.{fact.name}")).strip()},
        more=text_of(form, "more"),
    )


def by_length(ask: ReadingSpec) -> bool:
    """Whether the place of a reading is itself a length that the person types."""
    return isinstance(ask.stations, int)


def field_names(ask: ReadingSpec) -> tuple[str, ...]:
    """The reading's name at each of its named places."""
    if isinstance(ask.stations, int) or not ask.stations:
        return (ask.name,)
    return tuple(f"{ask.name}@{place}" for place in ask.stations)


def as_typed(check: Check, sent: Sent) -> list[str]:
    """Every reading as `name@place:instrument=value`; a field that must not stay empty as `name@place=`."""
    return [text for ask in check.asks for text in _of_ask(check, ask, sent)]


def _of_ask(check: Check, ask: ReadingSpec, sent: Sent) -> Iterator[str]:
    mark = f":{sent.read_with[ask.name]}" if ask.name in sent.read_with else ""
    missing = missing_fields(check, ask, sent)
    if by_length(ask):
        places, values = sent.places.get(ask.name, ()), sent.values(ask.name)
        for row, (place, value) in enumerate(zip(places, values, strict=False)):
            if place or value or (ask.name, row) in missing:
                yield f"{ask.name}@{place}{mark}={value}"
        return
    for name in field_names(ask):
        for row, value in enumerate(sent.readings.get(name, ())):
            if value or (name, row) in missing:
                yield f"{name}{mark}={value}"


def missing_fields(check: Check, ask: ReadingSpec, sent: Sent) -> set[tuple[str, int]]:
    """The empty fields (name, row) that must not stay so."""
    if by_length(ask):
        rows = list(zip(sent.places.get(ask.name, ()), sent.values(ask.name), strict=False))
        needed = ask.stations if isinstance(ask.stations, int) and not ask.optional else 0
        lacking = needed - sum(bool(place and value) for place, value in rows)
        empty = [(ask.name, row) for row, (place, value) in enumerate(rows) if not (place or value)]
        return set(empty[: max(0, lacking)])
    names = field_names(ask)
    if not any(value for name in names for value in sent.readings.get(name, ())) and ask.optional:
        return _half_rows(check, ask, sent)
    begun = [name for name in names if any(sent.readings.get(name, ()))]
    if ask.least is not None:
        rest = [name for name in names if name not in begun]
        names = (*begun, *rest[: max(0, ask.least - len(begun))])
    missing = {field for name in names for field in _too_few(name, sent.readings.get(name, ()), ask.need[0])}
    return missing | _half_rows(check, ask, sent)


def _too_few(name: str, values: tuple[str, ...], needed: int) -> list[tuple[str, int]]:
    empty = [(name, row) for row, value in enumerate(values) if not value]
    return empty[: max(0, needed - sum(map(bool, values)))]


def _half_rows(check: Check, ask: ReadingSpec, sent: Sent) -> set[tuple[str, int]]:
    """Empty fields whose neighbours in the same row are filled: left out they would pair the rest wrongly."""
    if not ask.row:
        return set()
    mates = [other for other in check.asks if other.row == ask.row and other is not ask]
    filled = {row for mate in mates for row, value in enumerate(sent.values(mate.name)) if value}
    return {(ask.name, row) for row, value in enumerate(sent.values(ask.name)) if not value and row in filled}


def _typed(form: FormData, name: str) -> tuple[str, ...]:
    return tuple(" ".join(value.split()) for value in texts_of(form, name))[:MOST_FIELDS] or ("",)
