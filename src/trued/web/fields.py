"""The fields of a check's form, made from its declaration alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from trued.errors import Fault
from trued.units import Unit
from trued.usecases.runs.check_form import CheckForm
from trued.usecases.views import Check, ReadingSpec, SetupFact
from trued.web.field import AskFields, Field, Fields, Row, StepFields, with_faults
from trued.web.form_data import Sent, by_length, field_names

_LEAST_ROWS = 3
"""Of readings along a length that are drawn to begin with: short, middle and long."""

_ENDINGS = {"angle": "°, in/ft or mrad", "percent": "%", "mass": "lb or kg", "force": "lbf or N"}


def fields_of(form: CheckForm, sent: Sent, faults: Sequence[Fault] = ()) -> Fields:
    """Every input of the page with what was typed; each fault beside the field it is about."""
    check = form.check
    served: set[str] = set()
    steps = []
    for number, step in enumerate(check.steps, 1):
        names = [name for name in step.asks if name not in served]
        groups = list(_groups(check, names))
        served |= {ask.name for group in groups for ask in group}
        asks = tuple(_ask_fields(form, group, sent) for group in groups)
        steps.append(StepFields(number, step.text, step.caution, asks))
    needed = tuple(_fact(fact, sent, form.unit) for fact in form.asked if fact.needed_for == "value" or fact.of_run)
    wished = tuple(
        _fact(fact, sent, form.unit) for fact in form.asked if fact.needed_for != "value" and not fact.of_run
    )
    return with_faults(Fields(tuple(steps), needed, wished, ()), faults)


def _groups(check: Check, names: Sequence[str]) -> Iterator[tuple[ReadingSpec, ...]]:
    """Asks one by one; those of one row together, where the first of them is served."""
    done: set[str] = set()
    for name in names:
        if name in done:
            continue
        ask = check.ask(name)
        group = tuple(other for other in check.asks if other.row == ask.row) if ask.row else (ask,)
        done |= {each.name for each in group}
        yield group


def _ask_fields(form: CheckForm, group: tuple[ReadingSpec, ...], sent: Sent) -> AskFields:
    first = group[0]
    if len(group) > 1:
        rows, more = _side_by_side(group, sent), first.name
    elif by_length(first):
        rows, more = _along(first, sent), first.name
    else:
        rows, more = _repeats(first, sent), first.name if first.need[1] > 1 and not first.choices else ""
    return AskFields(
        words="; ".join(ask.text for ask in group),
        rows=tuple(rows),
        more=more,
        optional=all(ask.optional for ask in group),
        read_with=_read_with(form, first, sent),
    )


def _count(ask: ReadingSpec, sent: Sent, where: str, least: int) -> int:
    more = 1 if sent.more == ask.name else 0
    return min(max(least, len(sent.readings.get(where, ()))) + more, max(least, ask.need[1]))


def _repeats(ask: ReadingSpec, sent: Sent) -> Iterator[Row]:
    for where in field_names(ask):
        place = where.partition("@")[2].replace("-", " ").replace("_", " ")
        number = _count(ask, sent, where, ask.advise)
        for row in range(number):
            which = f"reading {row + 1} of {number}" if number > 1 else ""
            label = ", ".join(word for word in (place, which) if word)
            yield Row((_reading(ask, where, row, label or ("choose" if ask.choices else "reading"), sent),))


def _along(ask: ReadingSpec, sent: Sent) -> Iterator[Row]:
    least = max(ask.stations if isinstance(ask.stations, int) else 1, _LEAST_ROWS)
    places = sent.places.get(ask.name, ())
    for row in range(_count(ask, sent, ask.name, least)):
        typed = places[row] if row < len(places) else ""
        place = Field(f"at.{ask.name}.{row}", f"at.{ask.name}", "at", typed, sent.unit, "text", f"at {ask.name}", row)
        yield Row((place, _reading(ask, ask.name, row, ask.name.replace("_", " "), sent)))


def _side_by_side(group: tuple[ReadingSpec, ...], sent: Sent) -> Iterator[Row]:
    first = group[0]
    for row in range(_count(first, sent, first.name, first.advise)):
        yield Row(tuple(_reading(ask, ask.name, row, ask.name.replace("_", " "), sent) for ask in group))


def _reading(ask: ReadingSpec, where: str, row: int, label: str, sent: Sent) -> Field:
    values = sent.readings.get(where, ())
    kind = str(ask.kind)
    return Field(
        id=f"r.{where}.{row}".replace("@", "."),
        name=f"r.{where}",
        label=label,
        value=values[row] if row < len(values) else "",
        hint=sent.unit if kind in ("length", "gap") else _ENDINGS.get(kind, ""),
        keys=_keys(kind, ask.instrument),
        where=where,
        row=row,
        choices=ask.choices,
        optional=ask.optional,
    )


def _keys(kind: str, instrument: str) -> str:
    """Which keys a phone shows: figures for what a caliper reads; all where a sign, a slash or a unit may be needed."""
    if kind in ("count", "percent"):
        return "decimal"
    return "decimal" if kind == "length" and instrument not in ("rule", "tape") else "text"


def _read_with(form: CheckForm, ask: ReadingSpec, sent: Sent) -> Field | None:
    if str(ask.kind) not in ("length", "gap", "angle") or not form.instruments:
        return None
    ids = tuple(id for id, _ in form.instruments)
    value = sent.read_with.get(ask.name, "")
    return Field(f"with.{ask.name}", f"with.{ask.name}", ask.instrument, value, "", "", f"with {ask.name}", 0, ids)


def _fact(fact: SetupFact, sent: Sent, unit: Unit) -> Field:
    kind = str(fact.kind)
    return Field(
        id=f"f.{fact.name}",
        name=f"f.{fact.name}",
        label=fact.text,
        value=sent.facts.get(fact.name, ""),
        hint=unit if kind == "length" else "such as 20/in or 1.25mm" if kind == "thread" else _ENDINGS.get(kind, ""),
        keys="text",
        where=f"--{fact.name}",
        row=0,
        choices=fact.choices,
        optional=fact.needed_for != "value" and fact.name != "angle",
    )
