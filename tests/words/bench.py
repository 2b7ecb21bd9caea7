"""A book made on the spot, and the command line called on it in this process."""

from __future__ import annotations

import contextlib
import io
import json
import os
import re
import shlex
import shutil
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from trued.__main__ import main

ROOT = Path(__file__).resolve().parents[2]
SHOP = ROOT / "examples" / "shop.toml"
RACK = ROOT / "examples" / "rack.toml"
INCH_MM = 25.4
UNITS = ("in", "mm")
_PLACED = {"stop-scale", "fence-straight"}
"""Checks whose places are lengths, so that they too are typed in the book's unit."""
_NUMBER = re.compile(r"-?(\d+(\.\d+)?|\d+ \d+/\d+|\d+/\d+)")
_SHORT = {  # the examples of these are longer than the caliper of the example shop
    "kerf": ("whole=5.000", "keeper_piece=2.400", "offcut_piece=2.504"),
    "stop-repeat": ("set=6.000", "part=6.003", "part=6.004", "part=6.003", "part=6.004", "part=6.003", "part=6.004"),
    "stop-scale": ("measured@3=3.004", "measured@5=5.004", "measured@7=7.005", "--angle", "0"),
}


@dataclass(frozen=True, slots=True)
class Answer:
    """What a call printed, on either stream, and its exit status."""

    status: int
    text: str


def trued(*words: object) -> Answer:
    """One command, as a person calls it."""
    os.environ.pop("TRUED_BOOK", None)  # never the book of whoever runs this
    said = io.StringIO()
    with contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
        try:
            status = main([str(word) for word in words])
        except SystemExit as end:  # what is asked for with --help
            status = end.code if isinstance(end.code, int) else 1
    return Answer(status, said.getvalue())


@dataclass
class Bench:
    """One book. `now` is the time of the next record: it moves on by 20 minutes with each."""

    book: Path
    unit: str
    now: datetime

    @classmethod
    def described(cls, folder: Path, unit: str) -> Bench:
        """The example shop, in which nothing was found yet; in mm its sizes are the same, typed with their unit."""
        text = SHOP.read_text(encoding="utf-8")
        if unit == "mm":
            text = with_units(text)
        file = folder / f"shop-{unit}.toml"
        file.write_text(text, encoding="utf-8")
        bench = cls(folder / f"empty-{unit}.trued", unit, datetime.now() - timedelta(hours=20))  # noqa: DTZ005
        bench.must("shop", file)
        return bench

    def copy(self, name: str) -> Bench:
        """The same book under another name."""
        place = self.book.with_name(f"{name}-{self.unit}.trued")
        shutil.copy(self.book, place)
        return Bench(place, self.unit, self.now)

    def call(self, *words: object) -> Answer:
        """A command on this book."""
        return trued(*words, "--book", self.book)

    def must(self, *words: object) -> Answer:
        """A command that is not refused."""
        answer = self.call(*words)
        assert answer.status == 0, (words, answer.text)
        return answer

    def record(self, *words: object) -> Answer:
        """A check, move or event, 20 minutes after the one before."""
        self.now += timedelta(minutes=20)
        return self.must(*words, "--at", self.now.strftime("%Y-%m-%dT%H:%M"))

    def check(self, id: str, *readings: str) -> Answer:
        """A run of a check; readings are given in inches, and typed in the book's unit."""
        return self.record("check", id, *self.typed(id, readings))

    def json(self, *words: object) -> Any:
        """What the command answers to a script."""
        return json.loads(self.must(*words, "--json").text)

    def typed(self, id: str, readings: Sequence[str]) -> list[str]:
        """Readings in inches as they are typed into this book."""
        return list(readings) if self.unit == "in" else list(_in_mm(id, readings))


def _in_mm(id: str, readings: Sequence[str]) -> Iterator[str]:
    for word in readings:
        name, equals, value = word.partition("=")
        if not equals:
            yield word
            continue
        bare, at, place = name.partition("@")
        if at and id in _PLACED:
            name = f"{bare}@{_mm(place)}"
        yield f"{name}={_mm(value)}"


def _mm(text: str) -> str:
    if not _NUMBER.fullmatch(text):
        return text
    total = 0.0
    for part in text.lstrip("-").split():
        top, _, bottom = part.partition("/")
        total += float(top) / float(bottom or 1)
    return f"{'-' if text.startswith('-') else ''}{total * INCH_MM:.3f}"


def examples() -> dict[str, tuple[str, ...]]:
    """Each check with readings that this shop's instruments reach."""
    listed = json.loads(trued("checks", "--json").text)["checks"]
    told = {check["id"]: tuple(shlex.split(check["example"])[3:]) for check in listed}
    return told | {id: readings for id, readings in _SHORT.items() if id in told}


def with_units(text: str) -> str:
    """A shop file in mm whose sizes are the same: those without a unit get theirs. Its stop scale is in mm."""
    text = text.replace('unit = "in"', 'unit = "mm"').replace('scale_step = "1/64"', 'scale_step = "0.5mm"')
    lines = (line if line.startswith(("thread", "largest_load")) else _sized(line) for line in text.splitlines())
    return "\n".join(lines) + "\n"


def _sized(line: str) -> str:
    return re.sub(r'"(-?(?:\d+(?:\.\d+)?|\d+/\d+|\d+ \d+/\d+))"(?!\s*=)', r'"\1 in"', line)


def rack(unit: str) -> str:
    """The example job; in mm its sizes are the same, typed with their unit."""
    text = RACK.read_text(encoding="utf-8")
    if unit == "in":
        return text
    text = _sized(text.replace('unit = "in"', 'unit = "mm"'))
    return re.sub(r'(- 1/(?:16|64))"', r'\1 in"', text)
