"""A value that came out of a kept JSON text, read by name and kind; what is missing is "", None or nothing."""

from __future__ import annotations

import json
from collections.abc import Iterator


class Node:
    """One value of the text."""

    __slots__ = ("_value",)

    def __init__(self, value: object) -> None:
        self._value = value

    @classmethod
    def parsed(cls, text: str) -> Node:
        """The whole text."""
        return cls(json.loads(text))

    def __getitem__(self, key: str | int) -> Node:
        """A part of it; a node of None where there is no such part."""
        value = self._value
        if isinstance(value, dict) and isinstance(key, str):
            return Node(value.get(key))
        if isinstance(value, list) and isinstance(key, int) and -len(value) <= key < len(value):
            return Node(value[key])
        return Node(None)

    def __iter__(self) -> Iterator[Node]:
        """The items of a list; nothing for anything else."""
        yield from (Node(item) for item in self._value) if isinstance(self._value, list) else ()

    def items(self) -> Iterator[tuple[str, Node]]:
        """Names and values of an object; nothing for anything else."""
        yield from ((k, Node(v)) for k, v in self._value.items()) if isinstance(self._value, dict) else ()

    def __bool__(self) -> bool:
        """Whether there is anything."""
        return self._value not in (None, "", [], {})

    @property
    def text(self) -> str:
        """A text; "" for anything else."""
        return self._value if isinstance(self._value, str) else ""

    @property
    def number(self) -> float | None:
        """A number; None for anything else."""
        value = self._value
        return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None

    @property
    def true(self) -> bool:
        """Whether it is the word true."""
        return self._value is True

    @property
    def texts(self) -> tuple[str, ...]:
        """The texts of a list."""
        return tuple(node.text for node in self if node.text)
