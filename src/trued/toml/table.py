"""A TOML text as tables whose every key is known, with a fault for everything that is not what it should be."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import cast

from trued.errors import Faults, InputRefused
from trued.toml.text import TooMuch, toml_tables
from trued.units.nearest import nearest


def load(text: str) -> Mapping[str, object]:
    """The tables of a TOML 1.0 text; `InputRefused` says where it stops being one."""
    if not text.strip("\ufeff \t\r\n"):
        raise InputRefused.of("", "", "The file is empty; a job file needs at least one [[part]].")
    try:
        return toml_tables(text)
    except tomllib.TOMLDecodeError as error:
        where, why = _where(str(error))
        raise InputRefused.of(where, "", f"This cannot be read as TOML: {_plainly(why)}.") from None
    except TooMuch as much:
        raise InputRefused.of("", "", str(much)) from None


def _where(said: str) -> tuple[str, str]:
    """tomllib says `Expected '=' after a key (at line 3, column 5)`; place and reason are told apart."""
    found = re.fullmatch(r"(?P<why>.*?) ?\(at (?P<where>.*)\)", said, re.DOTALL)
    if found is None:
        return "", said
    return found["where"], (found["why"][:1].lower() + found["why"][1:])


_PLAIN = (
    ("illegal character '\\n'", "a closing quote is missing on this line"),
    ("unterminated string", "a quote is opened and never closed"),
    ('expected "\'"', "a quote is opened and never closed"),
    ("expected '=' after a key", "an = is missing after the name"),
    ("expected ']]'", "a closing ]] is missing"),
    ("expected ']'", "a closing ] is missing"),
    ("unclosed array", "a list is not closed with ], or a comma between two of its values is missing"),
    ("unclosed inline table", "a { is not closed with } on its line, or a comma is missing"),
    ("cannot overwrite a value", "a name is given twice in one table, the second time here or above"),
    ("cannot declare", "a table is begun twice; parts, stock and fits begin with double brackets, as [[part]]"),
    ("expected newline", 'something stands behind the value; a size is written in quotes, as "13 3/8"'),
    ("invalid value", 'a value is missing or not in straight quotes; a size is written as "13 3/8"'),
    ("invalid statement", "the line does not begin with a name or a [table]"),
    ("unescaped", "a \\ stands in a text; write / or two of them"),
)
"""How the reasons of tomllib begin, and what most likely was typed."""


def _plainly(why: str) -> str:
    return next((plain for begins, plain in _PLAIN if why.startswith(begins)), why)


@dataclass(frozen=True, slots=True)
class Table:
    """One table of the file and its place in the person's words (`[[part]] "shelf"`)."""

    values: Mapping[str, object]
    place: str
    faults: Faults

    def only(self, known: Sequence[str]) -> None:
        """Refuse every key that is not known."""
        for key in self.values:
            if key not in known:
                self.fault(key, f"This key is not known here. {nearest(key, known)}", read=key, at=self.place)

    def has(self, key: str) -> bool:
        """Whether the key is there."""
        return key in self.values

    def text(self, key: str, default: str = "") -> str:
        """A text; `default` where it is missing."""
        value = self.values.get(key, default)
        if isinstance(value, str):
            return value
        mend = f'{key} = "{value}"' if isinstance(value, int | float) else f'{key} = "…"'
        self.fault(key, f"Write this in quotes: {mend}.", read=str(value))
        return default

    def word(self, key: str, among: Iterable[str], default: str) -> str:
        """One of several words."""
        word = self.text(key, default)
        if word in (allowed := list(among)):
            return word
        self.fault(key, f"Write one of {', '.join(allowed)}.", read=word)
        return default

    def whole(self, key: str, default: int | None) -> int | None:
        """A whole number, without quotes."""
        value = self.values.get(key, default)
        if value is None or (isinstance(value, int) and not isinstance(value, bool)):
            return value
        self.fault(key, f"Write a whole number without quotes: {key} = 2.", read=str(value))
        return default

    def number(self, key: str) -> float | None:
        """A number, without quotes."""
        value = self.values.get(key)
        if value is None:
            return None
        if isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < 1e12:
            return float(value)
        self.fault(key, f"Write a number without quotes: {key} = 11.50.", read=str(value))
        return None

    def flag(self, key: str) -> bool:
        """True or false; false where it is missing."""
        value = self.values.get(key, False)
        if isinstance(value, bool):
            return value
        self.fault(key, f"Write {key} = true or {key} = false.", read=str(value))
        return False

    def texts(self, key: str, count: int, example: str) -> tuple[str, ...] | None:
        """So many texts in a list; None where it is missing or not such a list."""
        if key not in self.values:
            return None
        value = self.values[key]
        if isinstance(value, list) and len(value) == count and all(isinstance(one, str) for one in value):
            return tuple(value)
        self.fault(key, f"Write {count} sizes in quotes: {key} = {example}.", read=str(value))
        return None

    def table(self, key: str) -> Table:
        """A table of the file; an empty one where it is missing."""
        value = self.values.get(key, {})
        if isinstance(value, dict):
            return Table(value, f"[{key}]", self.faults)
        self.fault(key, f"Begin a table with [{key}] on a line of its own.", read=str(value))
        return Table({}, f"[{key}]", self.faults)

    def inner(self, key: str) -> Table:
        """The table that stands at a key, which is known to hold one."""
        return Table(cast("Mapping[str, object]", self.values[key]), self.at(key), self.faults)

    def rows(self, key: str) -> Iterator[Table]:
        """The tables of a list, each named by its id or its number."""
        value = self.values.get(key, [])
        if not isinstance(value, list) or not all(isinstance(row, dict) for row in value):
            self.fault(key, f"Begin each with [[{key}]] on a line of its own.", read=str(value))
            return
        for number, row in enumerate(value, 1):
            id = row.get("id")
            yield Table(row, f'[[{key}]] "{id}"' if isinstance(id, str) and id else f"[[{key}]] {number}", self.faults)

    def marks(self, key: str) -> Iterator[Table]:
        """The small tables of a list inside this one, by their numbers."""
        value = self.values.get(key, [])
        if not isinstance(value, list) or not all(isinstance(one, dict) for one in value):
            self.fault(key, f'Write {key} = [{{ at = ["41", "0"], size = ["1 1/2", "2"] }}].', read=str(value))
            return
        for number, one in enumerate(value, 1):
            yield Table(one, f"{self.at(key)} {number}", self.faults)

    def fault(self, key: str, text: str, *, read: str = "", at: str | None = None) -> None:
        """Note a fault at one key."""
        self.faults.add(self.at(key) if at is None else at, read, text)

    def at(self, key: str) -> str:
        """The place of a key in the person's words."""
        return ", ".join(word for word in (self.place, key) if word)
