"""A TOML document read piece by piece: every fault is noted with its place, and a key nobody asked for is one."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial
from typing import TypeVar

from trued import units
from trued.errors import Faults, InputRefused
from trued.toml.text import TooMuch, toml_tables
from trued.units import Unit
from trued.units.nearest import nearest

_T = TypeVar("_T")
_ID = re.compile(r"[a-z][a-z0-9-]{0,39}")


def parse(text: str) -> Mapping[str, object]:
    """The document as plain tables; InputRefused when it is empty or no TOML. Decimals stay as they were written."""
    if not text.strip():
        raise InputRefused.of("shop file", "", "The file is empty; describe the shop in it (docs/shop.md).")
    try:
        return toml_tables(text, parse_float=str)
    except tomllib.TOMLDecodeError as wrong:
        raise InputRefused.of("shop file", "", f"The file is not TOML: {wrong}") from None
    except TooMuch as much:
        raise InputRefused.of("shop file", "", str(much)) from None


class Section:
    """One table of the document. `done` refuses the keys that nothing asked for."""

    def __init__(self, data: Mapping[str, object], place: str, unit: Unit, faults: Faults) -> None:
        self._data = data
        self._place = place
        self._unit = unit
        self._faults = faults
        self._asked: list[str] = []

    def __contains__(self, key: str) -> bool:
        return key in self._data

    def text(self, key: str) -> str | None:
        """A text or a plain number, as written; None when it is not there or was at fault."""
        if (value := self._get(key)) is None:
            return None
        if isinstance(value, bool) or not isinstance(value, (str, int)):
            self.refuse(key, str(value), f'Write it as text, as in {key} = "5 1/2".')
            return None
        return str(value)

    def read(self, key: str, reader: Callable[[str], _T]) -> _T | None:
        """What `reader` makes of a text."""
        text = self.text(key)
        return None if text is None else self.through(key, text, reader)

    def id(self, default: str = "") -> str:
        """The id of what the table describes; `default` where it may be left out."""
        text = self.text("id")
        if text is None:
            if not default:
                self.refuse("id", "", 'Each one needs an id, as in id = "sled".')
            return default
        if not _ID.fullmatch(text):
            self.refuse("id", text, "An id is small letters, digits and hyphens, and begins with a letter.")
        return text

    def length(self, key: str, *, may_be_0: bool = False) -> float | None:
        """A length in mm."""
        return self.read(key, partial(_length, unit=self._unit, may_be_0=may_be_0))

    def mass(self, key: str) -> float | None:
        """A weight in kg, above 0."""
        return self.read(key, partial(_above_0, reader=units.read_mass))

    def angle(self, key: str) -> float | None:
        """An angle in rad, above 0."""
        return self.read(key, partial(_above_0, reader=units.read_angle))

    def count(self, key: str) -> int | None:
        """A whole number, 0 or more."""
        return self.read(key, units.read_count)

    def word(self, key: str, words: Sequence[str]) -> str | None:
        """One of some words."""
        return self.read(key, partial(_word, words=words))

    def words(self, key: str, words: Sequence[str]) -> tuple[str, ...] | None:
        """A list of some words."""
        if (value := self._get(key)) is None:
            return None
        if not isinstance(value, list):
            self.refuse(key, str(value), f'Write a list, as in {key} = ["{words[0]}"]; [] when there is none.')
            return None
        read = [self.through(key, str(item), partial(_word, words=words)) for item in value]
        return tuple(word for word in read if word is not None)

    def pair(self, key: str) -> tuple[str, str] | None:
        """A list of two texts."""
        if (value := self._get(key)) is None:
            return None
        if not isinstance(value, list) or len(value) != 2:
            self.refuse(key, str(value), f'Write two sizes, as in {key} = ["20", "18"].')
            return None
        return str(value[0]), str(value[1])

    def texts(self, key: str) -> tuple[str, ...]:
        """A list of texts, or one text alone; () when it is left out."""
        if (value := self._get(key)) is None:
            return ()
        return tuple(str(item) for item in value) if isinstance(value, list) else (str(value),)

    def flag(self, key: str) -> bool | None:
        """true or false; "yes" and "no" are taken as well."""
        if (value := self._get(key)) is None:
            return None
        if not isinstance(value, bool) and value not in ("yes", "no"):
            self.refuse(key, str(value), f"Write {key} = true or {key} = false.")
            return None
        return value is True or value == "yes"

    def table(self, key: str) -> Section | None:
        """A table within this one."""
        if (value := self._get(key)) is None:
            return None
        if not isinstance(value, dict):
            self.refuse(key, str(value), f"{key} holds several values: write {key} = {{ … }}.")
            return None
        return Section(value, f"{self._place} {key}".strip(), self._unit, self._faults)

    def tables(self, key: str) -> Iterator[Section]:
        """The tables of a list, `[[fixture]]`; each place names its id."""
        value = self._get(key)
        if value is None:
            return
        if not isinstance(value, list) or not all(isinstance(item, dict) for item in value):
            self.refuse(key, "", f"Write each one under its own [[{key}]].")
            return
        for number, item in enumerate(value, 1):
            name = item.get("id", f"no. {number}")
            yield Section(item, f'[[{key}]] "{name}"', self._unit, self._faults)

    def __iter__(self) -> Iterator[str]:
        return iter(self._data)

    def refuse(self, key: str, read: str, text: str) -> None:
        """Note a fault at a key."""
        self._faults.add(f"{self._place}, {key}".removeprefix(", "), read, text)

    def through(self, key: str, text: str, reader: Callable[[str], _T]) -> _T | None:
        """What `reader` makes of a text that belongs to a key; None when it was at fault."""
        try:
            return reader(text)
        except InputRefused as refused:
            for fault in refused.faults:
                self.refuse(key, fault.read, fault.text)
            return None

    def done(self, known: Sequence[str] = ()) -> None:
        """Refuse every key that nothing asked for; `known` are further ones that might have been meant."""
        names = list(dict.fromkeys([*self._asked, *known]))
        for key in self._data:
            if key not in self._asked:
                self.refuse(key, "", f"Nothing here is called {key!r}. {nearest(key, names)}")

    def _get(self, key: str) -> object | None:
        self._asked.append(key)
        return self._data.get(key)


def _length(text: str, unit: Unit, may_be_0: bool) -> float:
    mm = units.read_length(text, unit).mm
    if mm <= 0.0 and not may_be_0:
        raise InputRefused.of("", text, "This must be more than 0.")
    return mm


def _word(text: str, words: Sequence[str]) -> str:
    typed = text.strip().lower()
    word = next((word for word in words if word.lower() == typed), None)
    if word is None:
        raise InputRefused.of("", text, f"{text!r} is not one of the answers. {nearest(typed, words)}")
    return word


def _above_0(text: str, reader: Callable[[str], float]) -> float:
    value = reader(text)
    if value <= 0.0:
        raise InputRefused.of("", text, "This must be more than 0.")
    return value
