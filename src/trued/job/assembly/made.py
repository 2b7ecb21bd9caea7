"""What an assembly makes: named sizes, parts and fits, as the rows that a person would have written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from trued.job.assembly.joint import Jointed
from trued.toml.table import Table

Row = dict[str, object]


@dataclass(frozen=True, slots=True)
class Assembled:
    """One assembly as told: its id, its kind, for every part where its size comes from, and the parts whose ends are
    cut at an angle."""

    id: str
    kind: str
    said: tuple[str, ...]
    angled: tuple[str, ...] = ()


@dataclass(slots=True)
class Making:
    """An assembly being taken apart. Every size that it names is called `ID_word` and can be used elsewhere too."""

    row: Table
    id: str
    sizes: dict[str, str] = field(default_factory=dict)
    parts: list[Row] = field(default_factory=list)
    fits: list[Row] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    angled: list[str] = field(default_factory=list)

    def size(self, key: str, usual: str | None = None) -> str:
        """The name of a size that the row gives at `key`; a fault is noted where it must and does not."""
        return self.name(key, self.row.text(key) if self.row.has(key) else self._usual(key, usual))

    def name(self, word: str, text: str) -> str:
        """Give a sum a name of the assembly's own."""
        self.sizes[f"{self.id}_{word}"] = text
        return f"{self.id}_{word}"

    def part(
        self,
        word: str,
        quantity: int,
        length: str | Jointed,
        width: str | Jointed,
        thickness: str,
        more: Mapping[str, object] = MappingProxyType({}),
    ) -> str:
        """A part, with what the row says for all of them. Its name."""
        name = f"{self.id}_{word}"
        told = []
        for side, size in (("length", length), ("width", width)):
            if isinstance(size, Jointed):
                told.append(f"{side} by {size.said}")
        if told:
            self.said.append(f"{name}: {'; '.join(told)}.")
        usual: Row = {key: self.row.values[key] for key in _PASSED_ON if self.row.has(key)}
        self.parts.append(
            {"id": name, "quantity": quantity, "length": _text(length), "width": _text(width), "thickness": thickness}
            | usual
            | dict(more)
        )
        return name

    def fit(self, name: str, kind: str, low: str | None, high: str | None, fields: Mapping[str, object]) -> None:
        """A fit of that kind."""
        limits = {key: text for key, text in (("at_least", low), ("at_most", high)) if text is not None}
        self.fits.append({"id": f"{self.id}: {name}".replace(":", ","), "kind": kind, **fields, **limits})

    def _usual(self, key: str, usual: str | None) -> str:
        if usual is None:
            self.row.fault(key, f'An assembly of this kind needs it; write {key} = "…".')
            return "1"
        return usual


_PASSED_ON = ("material", "grain", "tolerance", "alike", "show")


def _text(size: str | Jointed) -> str:
    return size.length if isinstance(size, Jointed) else size
