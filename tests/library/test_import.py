"""`import trued` gives its names and loads none of them before it is used; what they lead to is promised too."""

from __future__ import annotations

import dataclasses
import inspect
import subprocess
import sys
import typing
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

import trued

PROMISED = {name: getattr(trued, name) for name in trued.__all__}
ALIASES = {"Number", "Value", "Values", "Readings", "Unit"}
CALLS = [value for value in PROMISED.values() if inspect.isfunction(value)]
CALLS += [value for name, value in vars(trued.Book).items() if inspect.isfunction(value) and not name.startswith("_")]


@pytest.mark.parametrize("name", trued.__all__)
def test_every_name_is_there(name: str) -> None:
    assert name in dir(trued)
    assert name in ALIASES or PROMISED[name].__name__ == name


def test_no_other_name() -> None:
    with pytest.raises(AttributeError, match="colour"):
        trued.colour  # noqa: B018 - asking is the test


def test_import_loads_no_room() -> None:
    code = "import sys, trued; print([m for m in sys.modules if m.startswith('trued.')])"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"


def test_a_run_without_a_book_loads_no_heavy_library() -> None:
    code = (
        "import sys, trued; trued.evaluate('kerf', {'whole': 24.0, 'keeper_piece': 11.874, 'offcut_piece': 12.001});"
        "print([m for m in ('alembic', 'numpy', 'sqlalchemy', 'starlette', 'typst', 'uvicorn') if m in sys.modules])"
    )
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "[]\n"


def test_it_says_that_it_is_typed() -> None:
    assert (Path(trued.__file__).parent / "py.typed").exists()


def hints(of: Callable[..., object] | type) -> dict[str, object]:
    """The types as they are written, seen with the promised names alone where a file has them for the checker only."""
    return typing.get_type_hints(of, localns=PROMISED)


def ours(hint: object) -> Iterator[type]:
    """The classes of ours that a type names."""
    if isinstance(hint, type) and not typing.get_args(hint) and hint.__module__.startswith("trued"):
        yield hint
    for part in typing.get_args(hint):
        yield from ours(part)


def fields(value: type) -> Iterator[object]:
    """The types of the public fields and properties of a value."""
    if dataclasses.is_dataclass(value):
        known = hints(value)
        yield from (known[field.name] for field in dataclasses.fields(value) if not field.name.startswith("_"))
    for name, told in inspect.getmembers(value, lambda member: isinstance(member, property)):
        if not name.startswith("_") and told.fget is not None:
            yield hints(told.fget).get("return")


def test_every_type_that_a_call_takes_or_gives_is_promised() -> None:
    assert len(CALLS) > 20
    loose = {
        f"{call.__qualname__}: {kind.__name__}"
        for call in CALLS
        for hint in hints(call).values()
        for kind in ours(hint)
        if kind not in PROMISED.values()
    }
    assert loose == set()


def test_so_is_every_type_of_the_fields_of_what_a_call_gives() -> None:
    given = {kind for call in CALLS for kind in ours(hints(call).get("return"))}
    assert len(given) > 10
    loose = {
        f"{kind.__name__}: {part.__name__}"
        for kind in given
        for hint in fields(kind)
        for part in ours(hint)
        if part not in PROMISED.values()
    }
    assert loose == set()


@pytest.mark.parametrize("call", CALLS, ids=lambda call: call.__qualname__)
def test_every_call_is_typed_and_told(call: Callable[..., object]) -> None:
    known = hints(call)
    assert "return" in known and set(inspect.signature(call).parameters) - {"self"} <= set(known)
    assert call.__doc__


@pytest.mark.parametrize("name", sorted(set(trued.__all__) - ALIASES))
def test_every_value_is_told(name: str) -> None:
    assert not (PROMISED[name].__doc__ or f"{name}(").startswith(f"{name}(")  # what dataclass writes by itself
