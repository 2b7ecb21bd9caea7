"""Frozen dataclasses to plain JSON values and back, to the last bit, and never by guess.

What comes back must have every field of its class and no other, each of its declared kind: a key that is missing,
misspelt or unknown is a `BadText` that tells its path (`order[3].face`). A field may be declared as text, number, true
or false, a word of a `Literal` or an enum, a time, a dataclass, a tuple of any length (`tuple[X, ...]`) or of a fixed
one, a mapping from text, or one of these or None.

A number that is not finite has no place in JSON; it is refused on the way out, so that it cannot turn into None.
"""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import datetime
from enum import Enum
from functools import cache
from types import NoneType, UnionType
from typing import Any, Literal, TypeVar, Union, cast, get_args, get_origin, get_type_hints

T = TypeVar("T")

Plain = None | bool | int | float | str | list["Plain"] | dict[str, "Plain"]


class BadText(ValueError):
    """A JSON text that is none of the class that was asked for. `path`: where in it."""

    def __init__(self, path: str, what: str) -> None:
        self.path = path
        super().__init__(f"{path or 'the whole'}: {what}")


def to_json(value: object) -> str:
    """As text."""
    return json.dumps(to_plain(value), ensure_ascii=False, allow_nan=False, separators=(",", ":"))


def from_json(kind: type[T], text: str) -> T:
    """From its text; BadText when it is none."""
    try:
        plain = json.loads(text)
    except ValueError as error:
        raise BadText("", f"no JSON text ({error})") from None
    return from_plain(kind, plain)


def to_plain(value: object) -> Plain:
    """As a JSON value; the keys are the names of the fields, in their order."""
    match value:
        case Enum():
            return to_plain(value.value)
        case float() if not math.isfinite(value):
            raise ValueError(f"{value} has no place in JSON")
        case None | bool() | int() | float() | str():
            return value
        case datetime():
            return value.isoformat()
        case Mapping():
            return {str(key): to_plain(item) for key, item in value.items()}
        case tuple() | list():
            return [to_plain(item) for item in value]
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: to_plain(getattr(value, field.name)) for field in fields(value)}
    raise TypeError(f"{type(value).__name__} has no place in a kept text")


def from_plain(kind: type[T], plain: object) -> T:
    """The value of that dataclass; BadText names the first thing that is wrong with it."""
    return cast("T", _read(kind, plain, ""))


def _read(kind: Any, plain: object, path: str) -> object:
    origin, inner = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType):
        return _one_of(inner, plain, path)
    if origin is Literal:
        if plain not in inner:
            raise BadText(path, f"{plain!r} is none of {', '.join(map(repr, inner))}")
        return plain
    if origin is tuple:
        return _tuple(inner, plain, path)
    if origin is not None and issubclass(origin, Mapping):
        found = _expect(plain, dict, "an object", path)
        return {key: _read(inner[1], item, f"{path}.{key}") for key, item in found.items()}
    if is_dataclass(kind):
        return _dataclass(cast("type", kind), plain, path)
    return _leaf(kind, plain, path)


def _one_of(kinds: tuple[Any, ...], plain: object, path: str) -> object:
    """None, or the one other kind that is declared."""
    if plain is None and NoneType in kinds:
        return None
    (only,) = (kind for kind in kinds if kind is not NoneType)
    return _read(only, plain, path)


def _tuple(inner: tuple[Any, ...], plain: object, path: str) -> tuple[object, ...]:
    items = _expect(plain, list, "a list", path)
    if len(inner) == 2 and inner[1] is Ellipsis:
        inner = (inner[0],) * len(items)
    if len(items) != len(inner):
        raise BadText(path, f"{len(items)} values where there must be {len(inner)}")
    return tuple(_read(kind, item, f"{path}[{at}]") for at, (kind, item) in enumerate(zip(inner, items, strict=True)))


def _dataclass(kind: type, plain: object, path: str) -> object:
    found = _expect(plain, dict, "an object", path)
    wanted = _fields(kind)
    for key in found:
        if key not in wanted:
            raise BadText(_under(path, key), "not a key of it")
    return kind(**dict(_values(wanted, found, path)))


def _values(wanted: Mapping[str, Any], found: Mapping[str, object], path: str) -> Iterator[tuple[str, object]]:
    for name, declared in wanted.items():
        if name not in found:
            raise BadText(_under(path, name), "missing")
        yield name, _read(declared, found[name], _under(path, name))


@cache
def _fields(kind: type) -> Mapping[str, Any]:
    hints = get_type_hints(kind)
    return {field.name: hints[field.name] for field in fields(kind)}


def _leaf(kind: Any, plain: object, path: str) -> object:
    if kind is float:
        return float(_expect(plain, (int, float), "a number", path))
    if kind in (str, int, bool):
        return _expect(plain, kind, _SAID[kind], path)
    if isinstance(kind, type) and issubclass(kind, Enum):
        return _made(kind, plain, path)
    if kind is datetime:
        return _made(datetime.fromisoformat, _expect(plain, str, "a time", path), path)
    raise TypeError(f"{kind} has no place in a kept text")


_SAID = {str: "a text", int: "a whole number", bool: "true or false"}


def _made(make: Callable[[Any], object], plain: object, path: str) -> object:
    try:
        return make(plain)
    except ValueError as error:
        raise BadText(path, str(error)) from None


def _expect(plain: object, kind: type | tuple[type, ...], said: str, path: str) -> Any:
    """Python counts True as a number; JSON does not."""
    if not isinstance(plain, kind) or (isinstance(plain, bool) and kind is not bool):
        raise BadText(path, f"{plain!r} is not {said}"[:200])
    return plain


def _under(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name
