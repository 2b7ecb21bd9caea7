"""The fields of one ready-made fit, read with their faults noted at their place."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeVar

from trued.errors import InputRefused
from trued.job.expression.tree import Name, Node, PartSize, Side, uses
from trued.job.file.sizing import Sizing
from trued.toml.table import Table
from trued.units.nearest import nearest

N = TypeVar("N")
_PART = re.compile("(?P<part>[A-Za-z_][A-Za-z0-9_]*)(?:@(?P<copy>[1-9][0-9]{0,3}))?")


class Lacking(Exception):
    """A field that the geometry needs is missing or was refused."""


@dataclass(frozen=True, slots=True)
class Fields:
    """Reads sizes, lists of sizes and parts; every method raises `Lacking` once it has noted a fault."""

    row: Table
    sizing: Sizing

    def size(self, key: str, usual: str = "") -> Node:
        """A sum; `usual` is what stands where the key is left out."""
        if not self.row.has(key) and usual:
            return self._sum(key, usual)
        if not self.row.has(key):
            self.row.fault(key, f'This kind of fit needs it; write {key} = "…".')
            raise Lacking
        text = self.row.text(key)
        if not isinstance(self.row.values[key], str):
            raise Lacking
        return self._sum(key, text)

    def maybe(self, key: str) -> Node | None:
        """A sum, or None where the key is left out."""
        return self.size(key) if self.row.has(key) else None

    def one_or_two(self, key: str) -> tuple[Node, Node]:
        """A sum for both places, or a list of two."""
        if isinstance(self.row.values.get(key), list):
            first, second = self.sizes(key, 2)
            return first, second
        both = self.size(key)
        return both, both

    def pair(self, key: str) -> tuple[Node, Node]:
        """A list of exactly two sums."""
        first, second = self.sizes(key, 2)
        return first, second

    def sizes(self, key: str, count: int | None = None) -> tuple[Node, ...]:
        """A list of sums: so many, or two and more."""
        return tuple(self._sum(key, text) for text in self._texts(key, count, "sizes"))

    def part(self, key: str) -> PartSize:
        """A part by its name, `shelf` or `shelf@2`: its length."""
        if not isinstance(self.row.values.get(key), str):
            self.row.fault(key, f'Name the part: {key} = "shelf".')
            raise Lacking
        return self._part(key, self.row.text(key))

    def parts(self, key: str) -> tuple[PartSize, ...]:
        """A list of three parts and more."""
        texts = self._texts(key, None, "parts")
        if len(texts) < 3:
            self.row.fault(key, "A frame has three sides and more; name every one in its order round.")
            raise Lacking
        return tuple(self._part(key, text) for text in texts)

    def length_in(self, key: str, node: Node) -> PartSize:
        """The one part whose length a sum goes by."""
        found = [use for use in uses(node) if isinstance(use, PartSize) and use.side is Side.LENGTH]
        if len(found) != 1:
            self.row.fault(key, "Say it by the length of one part, as in top.length + 2*t, so that its ends are known.")
            raise Lacking
        return found[0]

    def percents(self, key: str) -> tuple[float, float]:
        """Two numbers in a list, without quotes."""
        value = self.row.values.get(key)
        if isinstance(value, list) and len(value) == 2 and all(type(one) in (int, float) for one in value):
            low, high = sorted(float(one) for one in value)
            return low, high
        self.row.fault(key, f"Write two percentages in a list: {key} = [6, 12].", read=str(value or ""))
        raise Lacking

    def word(self, key: str, among: Iterable[str], usual: str) -> str:
        """One of several words."""
        allowed = tuple(among)
        word = self.row.word(key, allowed, usual)
        if word not in allowed:  # pragma: no cover - the table gives the usual word with its fault
            raise Lacking
        return word

    def _texts(self, key: str, count: int | None, what: str) -> tuple[str, ...]:
        value = self.row.values.get(key)
        texts = tuple(one for one in value if isinstance(one, str)) if isinstance(value, list) else ()
        right = isinstance(value, list) and len(texts) == len(value)
        if not right or (len(texts) != count if count else len(texts) < 2):
            many = f"{count}" if count else "two and more"
            self.row.fault(key, f'Write a list of {many} {what} in quotes: {key} = ["…", "…"].')
            raise Lacking
        return texts

    def _sum(self, key: str, text: str) -> Node:
        node = self.sizing.expression(self.row, key, text)
        if node is None:
            raise Lacking
        return node

    def _part(self, key: str, text: str) -> PartSize:
        known, found = self.sizing.targets.copies, _PART.fullmatch(text.strip())
        with self.row.faults.at(self.row.at(key)):
            if found is None or found["part"] not in known:
                near = nearest(text, sorted(known)) if known else ""
                raise InputRefused.of("", text, f"There is no part called {text}. {near}".strip())
            copy = int(found["copy"]) if found["copy"] else None
            if copy is not None and copy > known[found["part"]]:
                raise InputRefused.of("", text, f"There are {known[found['part']]} of {found['part']}.")
            return PartSize(found["part"], Side.LENGTH, copy)
        raise Lacking


def rests_on(nodes: Iterable[Node]) -> tuple[Name | PartSize, ...]:
    """Every name and part size of several sums, each once."""
    return tuple(dict.fromkeys(use for node in nodes for use in uses(node)))
