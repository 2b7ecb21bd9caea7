"""Values to JSON and back, strictly: whatever is missing, unknown or of another kind is named with its path."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from enum import StrEnum
from typing import Literal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trued.codec import BadText, from_json, from_plain, to_json, to_plain


class Wood(StrEnum):
    """Two kinds."""

    OAK = "oak"
    ASH = "ash"


@dataclass(frozen=True, slots=True)
class Leaf:
    """A small one."""

    name: str
    at: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class Whole:
    """One field of each kind."""

    count: int
    yes: bool
    size: float
    wood: Wood
    unit: Literal["in", "mm"]
    made: datetime
    leaves: tuple[Leaf, ...]
    pair: tuple[str, int]
    shares: Mapping[str, float]
    note: str | None


def whole() -> Whole:
    leaves = (Leaf("a", (0.1, 2.0)), Leaf("b"))
    return Whole(
        2, True, 0.1, Wood.ASH, "in", datetime(2026, 5, 4, tzinfo=UTC), leaves, ("x", 3), {"b": 1.0, "a": 2.0}, None
    )


def test_there_and_back_is_the_same_in_the_order_of_the_fields() -> None:
    again = from_json(Whole, to_json(whole()))
    assert again == whole() and list(again.shares) == ["b", "a"]
    assert list(json.loads(to_json(whole()))) == [*Whole.__annotations__]


@given(
    st.floats(allow_nan=False, allow_infinity=False), st.text(), st.none() | st.tuples(st.floats(0, 1), st.just(0.1))
)
def test_every_bit_and_every_sign_comes_back(size: float, name: str, at: tuple[float, float] | None) -> None:
    leaf = Leaf(name, at)
    assert from_json(Leaf, to_json(leaf)) == leaf
    assert from_json(tuple[float, ...], to_json((size,)))[0].hex() == size.hex()  # type: ignore[arg-type, misc]


@pytest.mark.parametrize(
    ("path", "change"),
    [
        ("count", {"count": 1.5}),
        ("count", {"count": True}),
        ("yes", {"yes": 1}),
        ("size", {"size": "0.1"}),
        ("size", {"size": None}),
        ("wood", {"wood": "elm"}),
        ("unit", {"unit": "cm"}),
        ("made", {"made": "yesterday"}),
        ("leaves", {"leaves": {}}),
        ("leaves[0]", {"leaves": [None]}),
        ("leaves[0].name", {"leaves": [{"at": None}]}),
        ("leaves[1].nmae", {"leaves": [{"name": "", "at": None}, {"nmae": "", "at": None}]}),
        ("leaves[0].at", {"leaves": [{"name": "", "at": [1.0]}]}),
        ("leaves[0].at[1]", {"leaves": [{"name": "", "at": [1.0, "2"]}]}),
        ("pair[1]", {"pair": ["x", "3"]}),
        ("shares.b", {"shares": {"b": "much"}}),
        ("note", {"note": 3}),
        ("more", {"more": 1}),
    ],
)
def test_what_is_wrong_is_named_by_its_path(path: str, change: dict[str, object]) -> None:
    plain = {**json.loads(to_json(whole())), **change}
    with pytest.raises(BadText) as told:
        from_plain(Whole, plain)
    assert told.value.path == path


@pytest.mark.parametrize("name", list(Whole.__annotations__))
def test_every_missing_and_every_misspelt_key_is_an_error(name: str) -> None:
    """What the reader before this one answered with an empty text, so that safety lines went missing unseen."""
    plain = json.loads(to_json(whole()))
    value = plain.pop(name)
    for bad in (plain, {**plain, f"{name}s": value}):
        with pytest.raises(BadText) as told:
            from_plain(Whole, bad)
        assert told.value.path in (name, f"{name}s")


def test_what_has_no_place_in_it_is_refused_on_the_way_out() -> None:
    for bad in (math.inf, math.nan, (1.0, -math.inf)):
        with pytest.raises(ValueError, match="no place"):
            to_plain(bad)
    with pytest.raises(TypeError):
        to_plain({"a": {1, 2}})
    with pytest.raises(TypeError):
        from_plain(set, [1])
    with pytest.raises(BadText, match="no JSON"):
        from_json(Leaf, "{")
