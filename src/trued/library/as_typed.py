"""Numbers of a script as the texts that a person would have typed: what is kept is a text, and so is exact."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal, InvalidOperation
from numbers import Real
from pathlib import Path
from typing import TypeAlias

from trued.errors import Faults, InputRefused
from trued.units.nearest import nearest
from trued.usecases.files.read_file import read_text
from trued.usecases.shop.list_checks import fact_names, one_check

Number: TypeAlias = float | Decimal
"""A `float` (an `int` is one too) or a `Decimal`: finite, in the unit of the call."""

Value: TypeAlias = Number | str | tuple[Number | str, str]
"""One reading: a number, a text as typed (`"25 3/16"`, `"636mm"`), or either with its instrument,
`(0.5, "caliper-1")`."""

Values: TypeAlias = Value | Iterable[Value]
"""One reading, or its repeats in the order in which they were read. A pair whose second is a text is a reading with its
instrument, never two repeats."""

Readings: TypeAlias = (
    Mapping[str, Values | Mapping[str, Values] | Mapping[int, Values] | Mapping[float, Values]] | Iterable[str]
)
"""A name -> its reading or repeats, or -> a place (its name, a length, the number of a copy) -> the same; or texts as
they are typed at the command line, `name[@place][:instrument]=value`."""

PLACES = 7  # after the point: as many as a typed number may have (docs/units.md)


def number_typed(value: Number | str, where: str = "") -> str:
    """A number written out as its shortest text; a text as it is.

    A float is the shortest decimal that means it: 1.0125 is exactly 1.0125, not 1.01249999…. A float that needs more
    than seven decimals came out of a sum: it is rounded to the seventh, half to even (in inches 2.5 nm).
    InputRefused: what is no finite number. A Decimal is not rounded: one of more than seven decimals is refused later.
    """
    if isinstance(value, str):
        return value
    return _written_out(value, where)


def _written_out(value: object, where: str) -> str:  # an object: numbers of other libraries come in too
    if isinstance(value, bool):
        raise InputRefused.of(where, repr(value), _NO_NUMBER)
    if isinstance(value, Decimal):
        return _plain(value, where)
    if isinstance(value, float):
        return _plain(_seven_places(Decimal(float.__repr__(value))), where)
    if not isinstance(value, Real):
        raise InputRefused.of(where, repr(value), _NO_NUMBER)
    try:
        return _plain(_seven_places(Decimal(str(value))), where)
    except InvalidOperation:
        raise InputRefused.of(where, str(value), "Give a float, or the fraction as a text: 25 3/16.") from None


_NO_NUMBER = "Give a float, an int, a Decimal, or a text as it is typed."


def _plain(exact: Decimal, where: str) -> str:
    if not exact.is_finite():
        raise InputRefused.of(where, str(exact), "This is not a number; give what was read.")
    return f"{exact or abs(exact):f}"


def _seven_places(exact: Decimal) -> Decimal:
    places = exact.as_tuple().exponent
    if not isinstance(places, int) or places >= -PLACES:
        return exact
    text = f"{exact.quantize(Decimal(1).scaleb(-PLACES)):f}".rstrip("0")
    return Decimal(text.removesuffix("."))


def readings_typed(readings: Readings, unit: str = "") -> list[str]:
    """The readings as `name[@place][:instrument]=value`, in their order; InputRefused names every one that cannot be.

    Floats of one call are written to as many decimals as the longest of them: a display shows 0.5000 beside 0.4375, and
    that it shows fractions of an inch alone is seen by the zeros that a float has lost (`fraction-display`).
    unit: written behind every number; with "" a number stays bare and means what the call says.
    """
    if isinstance(readings, str):
        raise InputRefused.of("", readings, "Give the readings as a mapping, or as a list of texts.")
    if not isinstance(readings, Mapping):
        return list(readings)
    faults = Faults()
    each: list[tuple[str, Number | str, str]] = []
    for name, values in readings.items():
        by_place = values if isinstance(values, Mapping) else {"": values}
        for place, there in by_place.items():
            with faults.at():
                station = number_typed(place, name)
                each += _of_one(f"{name}@{station}" if station else name, there)
    faults.raise_if_any()
    places = max((len(_decimals(text)) for _, read, text in each if isinstance(read, float)), default=0)
    return [
        f"{left}={text}{'0' * (places - len(_decimals(text))) if isinstance(read, float) and '.' in text else ''}"
        f"{'' if isinstance(read, str) else unit}"
        for left, read, text in each
    ]


def _of_one(what: str, values: Values) -> Iterator[tuple[str, Number | str, str]]:
    for value in _repeats(values):
        read, by = value if isinstance(value, tuple) else (value, "")
        yield f"{what}:{by}" if by else what, read, number_typed(read, what)


def _decimals(text: str) -> str:
    return text.partition(".")[2]


def _repeats(values: Values) -> Iterator[Value]:
    one = isinstance(values, str) or not isinstance(values, Iterable)
    if one or (isinstance(values, tuple) and len(values) == 2 and isinstance(values[1], str)):
        yield values  # type: ignore[misc]  # the lines above are its proof
    else:
        yield from values  # type: ignore[misc]


def facts_typed(check: str, facts: Mapping[str, Number | str] | None) -> dict[str, str]:
    """Facts of the saw or fixture as typed; InputRefused names every one that the check does not ask for."""
    if not facts:
        return {}
    asked = one_check(check)
    now = {name: fact.name for fact in asked.facts for name in fact_names(asked, fact.name)}
    faults = Faults()
    typed: dict[str, str] = {}
    for name, value in facts.items():
        with faults.at():
            if name not in now:
                told = nearest(name, list(now)) if now else "It asks for none."
                raise InputRefused.of("facts", name, f"{check} asks for no such fact. {told}")
            typed[now[name]] = number_typed(value, name)
    faults.raise_if_any()
    return typed


def unit_meant(unit: str | None) -> None:
    """InputRefused where a unit is neither inches nor millimetres."""
    if unit not in (None, "in", "mm"):
        raise InputRefused.of("unit", str(unit), 'Give "in" or "mm".')


def file_text(file: Path | str, where: str) -> str:
    """The text of a job or shop file: that of a `Path` is read, a `str` is the text itself."""
    if isinstance(file, Path):
        return read_text(file)
    if "\n" not in file and file.strip().lower().endswith(".toml"):
        raise InputRefused.of(where, file, "A str is the text of the file; for a file give a pathlib.Path.")
    return file
