"""A shop file read by the checker's own few rules: sizes to inches, weights to pounds. Nothing of the product is used.

It takes what the examples and the generator write: `22 3/4`, `1/64`, `0.083`, `457mm`, `66 lb`, `24 kg`.
"""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass, field
from fractions import Fraction

MM = 25.4
Table = dict[str, object]


def inches(text: object, unit: str = "in") -> float:
    """A size as written; a bare number is in the unit of the file."""
    word = str(text).strip().rstrip('"')
    if word.endswith("mm"):
        return float(word[:-2]) / MM
    number = sum(float(Fraction(part)) for part in word.split())
    return number if unit == "in" else number / MM


def pounds(text: object) -> float:
    """A weight as written."""
    match = re.fullmatch(r"\s*([\d.]+)\s*(lb|kg)\s*", str(text))
    assert match, text
    return float(match[1]) * (1.0 if match[2] == "lb" else 1 / 0.45359237)


@dataclass
class Bench:
    """The facts of a shop that the hard rules need, in inches and pounds; None where the file does not say."""

    table: dict[str, float | None] = field(default_factory=dict)
    rip: float | None = None
    least_rip: float = 12.0
    highest: float | None = None
    knife: float | None = None
    knife_behind: float = 2.0  # common practice where it is not told
    arbor: float | None = None
    largest: float | None = None
    speed: float | None = None
    forbids: tuple[str, ...] = ()
    looked_up: bool = False
    plate: float | None = None
    kerf: float | None = None
    diameter: float | None = None
    bore: float | None = None
    most_speed: float | None = None
    sled: dict[str, object] = field(default_factory=dict)
    sled_kind: str = ""
    wings: list[dict[str, object]] = field(default_factory=list)


def read_bench(text: str) -> Bench:
    """The bench that a shop file describes."""
    file = tomllib.loads(text)
    unit = str(file.get("unit", "in"))

    def size(table: Table, key: str) -> float | None:
        return inches(table[key], unit) if key in table else None

    saw, blade = _table(file, "saw"), _table(file, "blade")
    fixtures = [f for f in file.get("fixture", []) if not f.get("retired")]
    sleds = [f for kind in ("crosscut-sled", "mitre-gauge") for f in fixtures if f["kind"] == kind]
    behind = size(saw, "knife_behind")
    bench = Bench(
        rip=size(saw, "rip"),
        least_rip=size(saw, "least_rip") or 12.0,
        knife=size(saw, "knife"),
        knife_behind=2.0 if behind is None else behind,
        arbor=size(saw, "arbor"),
        largest=size(saw, "largest_blade"),
        speed=float(str(saw["speed"])) if "speed" in saw else None,
        forbids=tuple(saw.get("maker_forbids", ())),  # type: ignore[arg-type]
        looked_up="maker_forbids" in saw,
        plate=size(blade, "plate"),
        kerf=size(blade, "kerf"),
        diameter=size(blade, "diameter"),
        bore=size(blade, "bore"),
        most_speed=float(str(blade["max_speed"])) if "max_speed" in blade else None,
        highest=size(_table(saw, "max_cut"), "90"),
    )
    if sleds:
        bench.sled_kind = str(sleds[0]["kind"])
        bench.sled = {key: _fact(key, value, unit) for key, value in sleds[0].items()}
        if "size" in sleds[0]:
            bench.sled["across"], bench.sled["along"] = (inches(one, unit) for one in sleds[0]["size"])
    keeper = str(bench.sled.get("keeper", "left"))
    edges = _table(saw, "table")
    hands = {"keeper": keeper, "offcut": "right" if keeper == "left" else "left", "operator": "operator", "far": "far"}
    bench.table = {side: size(edges, key) for side, key in hands.items()}
    for wing in (f for f in fixtures if f["kind"] == "wing" and "size" in f and "side" in f):
        out, along = (inches(one, unit) for one in wing["size"])
        counts = bool(wing.get("load_tested")) or bool(str(wing.get("counted_because", "")).strip())
        bench.wings.append(
            {"side": wing["side"], "out": out, "along": along, "counts": counts, "held": wing.get("held", "")}
        )
    return bench


def _table(file: Table, key: str) -> Table:
    found = file.get(key, {})
    assert isinstance(found, dict)
    return found


def _fact(key: str, value: object, unit: str) -> object:
    lengths = ("crosscut", "base", "centre", "pivot_beside", "metal_end", "metal_front", "metal_back")
    if key in lengths:
        return inches(value, unit)
    return pounds(value) if key == "weight" else value
