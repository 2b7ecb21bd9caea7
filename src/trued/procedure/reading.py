"""From what was typed to what was taken: `name[@place][:instrument]=value`, all faults reported at once."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterator, Mapping, Sequence

from trued.errors import Fault, Faults, InputRefused
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.instrument import DEFAULTS, Instrument
from trued.procedure.asks import Kind, Need, ReadingSpec, SetupFact
from trued.procedure.declaration import Check, Reading, RunInput
from trued.units import (
    Unit,
    read_angle,
    read_count,
    read_degrees,
    read_force,
    read_length,
    read_mass,
    read_percent,
    read_temperature,
    read_thread,
)

_READERS: dict[Kind, Callable[[str], float]] = {
    Kind.ANGLE: read_angle,
    Kind.DEGREES: read_degrees,
    Kind.COUNT: read_count,
    Kind.PERCENT: read_percent,
    Kind.TEMPERATURE: read_temperature,
    Kind.MASS: read_mass,
    Kind.FORCE: read_force,
    Kind.THREAD: read_thread,
}


def take(
    check: Check,
    typed: Sequence[str],
    facts: Mapping[str, str] | None = None,
    *,
    instruments: Sequence[Instrument] = (),
    unit: Unit = "in",
    scatter: EstimatedSd | None = None,
    limits: Mapping[str, ToleranceLimits] | None = None,
) -> RunInput:
    """Read a whole run as typed; InputRefused names every fault of it."""
    faults = Faults()
    readings = [r for text in typed if (r := _reading(check, text, instruments, unit, faults)) is not None]
    known = _facts(check, facts or {}, unit, faults)
    if not faults:
        _complete(check, readings, faults)
    if faults:
        raise InputRefused(*_dangers(RunInput(check, tuple(readings), known, unit)), *faults)
    return RunInput(check, tuple(readings), known, unit, scatter, limits or {})


DANGER = "danger"
"""Where a fault stands that is none of the input: what was read can hurt someone, though more is to be read."""


def _dangers(partly: RunInput) -> Iterator[Fault]:
    """What the readings that could be read show already; said before what is missing or wrong."""
    for danger in partly.check.dangers:
        if (seen := danger(partly)) is not None:
            yield Fault(DANGER, "", seen.text)


def nearest(word: str, known: Sequence[str]) -> str:
    """` Did you mean X?` when a known word is close, else the list of what is known."""
    close = difflib.get_close_matches(word, known, n=1)
    return f"Did you mean {close[0]}?" if close else f"Known: {', '.join(known)}."


def _reading(check: Check, text: str, instruments: Sequence[Instrument], unit: Unit, faults: Faults) -> Reading | None:
    left, equals, value = text.partition("=")
    place, _, instrument_name = left.partition(":")
    name, at, station = (piece.strip() for piece in place.partition("@"))
    if not equals or not name:
        faults.add(text, text, "A reading is typed name=value, for example fence_end=0.500.")
        return None
    ask = next((a for a in check.asks if a.name == name), None)
    if ask is None:
        faults.add(name, text, f"{check.id} does not ask for {name!r}. {nearest(name, [a.name for a in check.asks])}")
        return None
    where = f"{name}@{station}" if at else name
    try:
        station = _station(ask, station, unit, where)
        instrument = _instrument(ask, instrument_name.strip(), instruments, where)
        return _valued(ask, station, value.strip(), instrument, bool(instrument_name), unit, where)
    except InputRefused as refused:
        faults.take(refused)
        return None


def _valued(
    ask: ReadingSpec, station: str, value: str, instrument: Instrument | None, named: bool, unit: Unit, where: str
) -> Reading:
    exact: tuple[int, int] | None = None
    choice, number = "", 0.0
    if not value:
        raise InputRefused.of(where, value, f"The reading is missing: type {ask.name}=VALUE ({ask.text}).")
    if ask.kind is Kind.CHOICE:
        choice = _choice(value, ask.choices, where)
    elif ask.kind in (Kind.LENGTH, Kind.GAP):
        length = read_length(value, unit, signed=ask.kind is Kind.GAP, where=where)
        number, exact = length.mm, (length.exact_mm.numerator, length.exact_mm.denominator)
        _in_range(instrument, number, where, value)
    else:
        number = float(_labelled(_READERS[ask.kind], value, where))
    return Reading(ask.name, station, value, ask.kind, number, choice, instrument, named, exact)


def _labelled(read: Callable[[str], float], value: str, where: str) -> float:
    try:
        return read(value)
    except InputRefused as refused:
        raise InputRefused(*(type(f)(where, f.read, f.text) for f in refused.faults)) from None


def _choice(value: str, choices: Sequence[str], where: str) -> str:
    word = value.lower()
    if word not in choices:
        raise InputRefused.of(where, value, f"{value!r} is not one of the answers: {', '.join(choices)}.")
    return word


def _station(ask: ReadingSpec, station: str, unit: Unit, where: str) -> str:
    if isinstance(ask.stations, int):
        if not station:
            raise InputRefused.of(where, "", f"{ask.name} needs a place: type {ask.name}@LENGTH=VALUE.")
        read_length(station, unit, where=where)
        return station
    if station and not ask.stations:
        raise InputRefused.of(where, station, f"{ask.name} is read at one place only: leave out @{station}.")
    if ask.stations and station not in ask.stations:
        raise InputRefused.of(where, station, f"{ask.name} is read at: {', '.join(ask.stations)}.")
    return station


def _instrument(ask: ReadingSpec, name: str, own: Sequence[Instrument], where: str) -> Instrument | None:
    if ask.kind not in (Kind.LENGTH, Kind.GAP, Kind.ANGLE):
        return None
    wanted = name or ask.instrument
    for thing in own:
        if wanted in (thing.id, thing.kind):
            return thing
    if wanted in DEFAULTS:
        return DEFAULTS[wanted]
    known = [thing.id for thing in own] + list(DEFAULTS)
    raise InputRefused.of(where, wanted, f"No instrument {wanted!r} is known. {nearest(wanted, known)}")


def _in_range(instrument: Instrument | None, mm: float, where: str, value: str) -> None:
    if instrument is not None and not instrument.reaches(mm):
        other = "Measure the difference to a stick or gauge of known length instead"
        raise InputRefused.of(where, value, instrument.beyond(mm, value, other))


def _facts(check: Check, given: Mapping[str, str], unit: Unit, faults: Faults) -> dict[str, str | float]:
    known: dict[str, str | float] = {}
    declared = {fact.name: fact for fact in check.facts}
    for name, text in given.items():
        if name in declared:
            try:
                known[name] = read_fact(declared[name], text, unit)
            except InputRefused as refused:
                faults.take(refused)
    for fact in check.facts:
        if fact.needed_for is Need.VALUE and fact.name not in known and fact.name not in given:
            faults.add(f"--{fact.name}", "", f"{check.id} needs {fact.text}: give --{fact.name}.")
    return known


def read_fact(fact: SetupFact, text: str, unit: Unit) -> str | float:
    where = f"--{fact.name}"
    if fact.kind is Kind.CHOICE:
        return _choice(text, fact.choices, where)
    if fact.kind is Kind.LENGTH:
        value = read_length(text, unit, where=where).mm
    else:
        value = float(_labelled(_READERS[fact.kind], text, where))
    if value <= 0.0 and fact.kind is not Kind.DEGREES:
        raise InputRefused.of(where, text, f"{fact.text} must be more than 0.")
    return value


def _complete(check: Check, readings: Sequence[Reading], faults: Faults) -> None:
    for ask in check.asks:
        mine = [r for r in readings if r.name == ask.name]
        if not mine and ask.optional:
            continue
        for place in _places(ask, list(dict.fromkeys(r.station for r in mine)), faults):
            _enough(ask, place, sum(r.station == place for r in mine), faults)
    for row in {ask.row for ask in check.asks if ask.row}:
        counts = {a.name: sum(r.name == a.name for r in readings) for a in check.asks if a.row == row}
        if len(set(counts.values())) > 1:
            text = ", ".join(f"{name} {n}" for name, n in counts.items())
            faults.add(row, text, "These readings belong in rows, so give as many of each.")


def _places(ask: ReadingSpec, read: list[str], faults: Faults) -> list[str]:
    """Where readings of an ask must stand, given where they do; too few places are a fault."""
    if not isinstance(ask.stations, int) and ask.least is None:
        return list(ask.stations) or [""]
    needed = ask.stations if isinstance(ask.stations, int) else ask.least or 0
    if len(read) < needed:
        text = f"{ask.name} is needed at {needed} places or more, got {len(read)}: {ask.text}."
        faults.add(ask.name, "", text)
    return read


def _enough(ask: ReadingSpec, place: str, n: int, faults: Faults) -> None:
    where = f"{ask.name}@{place}" if place else ask.name
    if n < ask.need[0]:
        short = "is missing" if n == 0 else f"was read {n} times, {ask.need[0]} are needed"
        faults.add(where, "", f"{where} {short}: {ask.text}.")
    elif n > ask.need[1]:
        faults.add(where, str(n), f"{where} was given {n} times; at most {ask.need[1]} make sense.")
