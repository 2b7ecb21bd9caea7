"""Invented shops and jobs drawn from a seed, good ones and bad ones, each planned in memory and held by the checker.

Of every fact that a hard rule reads there are shops in which it is missing and shops in which it forbids; what is known
of the safety items is drawn as well: never checked, shown right, cannot tell, found out, another blade since.
"""

from __future__ import annotations

import json
import random
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from unittest.mock import patch

from tests.lawful.checker import broken

from trued.advice.closures import FOR_RIPS, Closed
from trued.equipment.file.read_shop import read_shop
from trued.equipment.saw import BANS
from trued.errors import InputRefused
from trued.measure.decision import Conformity
from trued.measure.estimate import UncertainValue
from trued.standing.feature_status import FeatureStatus
from trued.usecases.plan import plan_job as planning
from trued.usecases.plan.document import answer_of, document_of
from trued.usecases.plan.shop import PlanShop

NOW = datetime(2026, 5, 4, 10, 0, tzinfo=UTC)
DECISIONS = {"in": Conformity.PROVEN_IN, "out": Conformity.PROVEN_OUT, "doubt": Conformity.NOT_PROVEN}


@dataclass(frozen=True)
class Drawn:
    """One shop with its job. known: what of the safety items is found. kerf: typed with --kerf, "" for nothing."""

    seed: int
    shop: str
    job: str
    known: Mapping[str, str]
    kerf: str


@dataclass(frozen=True)
class Seen:
    """What came of one: faults that the checker found, the plan (None where the job was refused)."""

    faults: list[str]
    plan: dict[str, Any] | None


def drawn(seed: int) -> Drawn:
    """The shop and job of that seed."""
    draw = random.Random(f"lawful {seed}")
    return Drawn(seed, _shop(draw), _job(draw), _known(draw), draw.choice(("",) * 9 + ("0.075", "0.105", "0.13")))


def looked_at(one: Drawn, effort: int = 40) -> Seen:
    """Plan it and let the checker look."""
    shop = read_shop(one.shop)
    here = PlanShop(shop, _standings(one.known), None, (), _closed(one.known))
    with patch.object(planning, "plan_shop", return_value=here):
        try:
            view = planning.plan_job(one.job, kerf=one.kerf or None, effort=effort, at=NOW)
        except InputRefused:
            return Seen([], None)
    plan: dict[str, Any] = json.loads(json.dumps(answer_of(document_of(view))))
    return Seen(broken(plan, one.shop, one.known), plan)


def _standings(known: Mapping[str, str]) -> tuple[FeatureStatus, ...]:
    return tuple(
        FeatureStatus(f"saw.{name}", "mm", UncertainValue(0.0), None, 0.5, DECISIONS[word], NOW, 2)
        for name, word in known.items()
        if word in DECISIONS
    )


def _closed(known: Mapping[str, str]) -> tuple[Closed, ...]:
    closed = [Closed(f"saw.{name}", f"Found out: {name}.") for name, word in known.items() if word == "closed"]
    if known.get("after-blade"):
        closed.append(Closed("saw.knife-under-kerf", "Another blade went on."))
    return tuple(closed)


def _known(draw: random.Random) -> dict[str, str]:
    words = draw.choice((("in",), ("in",), ("never", "in", "in", "doubt"), ("never",), ("in",) * 9 + ("out", "closed")))
    known = {name: draw.choice(words) for name in FOR_RIPS}
    return known | ({"after-blade": "yes"} if draw.random() < 0.06 else {})


def _maybe(draw: random.Random, line: str, missing: float = 0.04) -> str:
    return "" if draw.random() < missing else f"{line}\n"


def _shop(draw: random.Random) -> str:
    edge = {side: draw.randrange(8 * 4, 26 * 4) / 4 for side in ("left", "right", "operator", "far")}
    table = ", ".join(f'{side} = "{size}"' for side, size in edge.items() if draw.random() > 0.02)
    knife = draw.choice(("0.083",) * 12 + ("0.1", "0.06", "0"))
    bans = [word for word in BANS if draw.random() < 0.03]
    big = draw.random() < 0.05
    saw = (
        f'[saw]\ntable = {{ {table} }}\nleast_rip = "{draw.choice(("10", "12", "14"))}"\n'
        + _maybe(draw, f'rip = "{draw.randrange(12, 32)}"')
        + _maybe(draw, f'max_cut = {{ "90" = "{draw.choice(("1.9", "2.4", "2.85", "3.2"))}" }}')
        + _maybe(draw, f'knife = "{knife}"')
        + _maybe(draw, f'knife_behind = "{draw.choice(("0", "1", "2"))}"', 0.3)
        + _maybe(draw, 'largest_blade = "9 1/2"', 0.1)
        + _maybe(draw, "speed = 4150", 0.1)
        + _maybe(draw, 'arbor = "5/8"', 0.1)
        + _maybe(draw, f"maker_forbids = {json.dumps(bans)}", 0.1)
    )
    blade = (
        '[blade]\nid = "b"\nplate = "0.067"\n'
        + _maybe(draw, 'kerf = "0.094"')
        + _maybe(draw, f'diameter = "{"10 1/2" if big else "9 1/2"}"')
        + _maybe(draw, f'bore = "{draw.choice(("5/8",) * 24 + ("30mm",))}"', 0.1)
        + _maybe(draw, f"max_speed = {draw.choice((6800,) * 24 + (3000,))}", 0.1)
    )
    return f'unit = "in"\n{saw}{blade}{_fixtures(draw)}'


def _fixtures(draw: random.Random) -> str:
    text = ""
    if draw.random() > 0.05:
        across, along = draw.randrange(14, 28), draw.randrange(14, 24)
        kind = draw.choice(("crosscut-sled", "crosscut-sled", "mitre-gauge"))
        text += (
            f'[[fixture]]\nid = "sled"\nkind = "{kind}"\n'
            f'keeper = "{draw.choice(("left", "right"))}"\n'
            + _maybe(draw, f'fence = "{draw.choice(("far", "operator"))}"')
            + _maybe(draw, f'crosscut = "{draw.randrange(8, along)}"')
            + _maybe(draw, f'size = ["{across}", "{along}"]')
            + _maybe(draw, f'base = "{draw.choice(("1/4", "1/2", "3/4"))}"', 0.5 if kind == "mitre-gauge" else 0.04)
            + _maybe(draw, f'weight = "{draw.randrange(4, 16)} lb"')
            + _maybe(draw, f'centre = "{draw.randrange(3, across - 4)}"')
            + _maybe(draw, f"guard = {draw.choice(('true', 'false'))}", 0.5)
        )
        if draw.random() < 0.3:
            text += f'pivot_beside = "2 1/4"\nmetal_end = "{draw.choice(("1 1/4", "2", "2 1/8"))}"\n'
    for side in ("keeper", "far", "operator", "offcut"):
        if draw.random() < 0.4:
            text += (
                f'[[fixture]]\nid = "w-{side}"\nkind = "wing"\nside = "{side}"\n'
                f"load_tested = {draw.choice(('true', 'false'))}\n"
                f'size = ["{draw.randrange(8, 48)}", "{draw.randrange(10, 40)}"]\n'
                + _maybe(draw, f'held = "{draw.choice(("floor", "bolted", "table-drilled", "rail-clamped"))}"', 0.4)
            )
    return text


def _job(draw: random.Random) -> str:
    method = draw.choice(('method = "continuous"', 'method = "continuous"', 'method = "rough"\nrough = "1/2"'))
    text = f'name = "drawn"\nunit = "in"\nkerf = "0.094"\n{method}\n'
    for number in range(draw.choice((1, 1, 2))):
        sheet = draw.random() < 0.3
        wood = draw.choice(("birch ply",) if sheet else ("pine", "oak", "maple", "walnut"))
        boards = ("1/2", "3/4", "3/4", "1 1/2", "2 1/4", "3")
        thick = draw.choice(("1/4", "1/2", "0.703")) if sheet else draw.choice(boards)
        length, width = (
            (96.0, 48.0) if sheet else (float(draw.randrange(20, 144)), draw.choice((3.5, 5.5, 7.25, 9.25, 11.25)))
        )
        if draw.random() < 0.2:
            length, width = length / 2, width / 2
        text += (
            f'[[stock]]\nid = "B{number}"\nmaterial = "{wood}"\nlength = "{length}"\nwidth = "{width}"\n'
            f'thickness = "{thick}"\nhave = {draw.choice((2, 4))}\n'
            + ('trim_ends = ["1/2", "1/2"]\n' if draw.random() < 0.5 else "")
        )
        for kind in range(draw.choice((1, 2, 3))):
            # Most parts can lie on the stock; a few cannot, and their job is refused or short.
            long = max(2.0, round(draw.uniform(0.05, 0.6) * length * 8) / 8)
            wide = width if draw.random() < 0.2 else max(0.75, round(draw.uniform(0.1, 0.7) * width * 16) / 16)
            text += (
                f'[[part]]\nid = "p{number}{kind}"\nquantity = {draw.choice((1, 2, 3))}\nmaterial = "{wood}"\n'
                f'length = "{long}"\nwidth = "{wide}"\nthickness = "{thick}"\n'
            )
    return text
