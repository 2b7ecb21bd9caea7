"""Simulated stops that follow the advice: is every later part right, and how often is the cursor moved?

    python3 tasks.py bench stop [--shops N] [--seed N]

Each shop has a stop with an offset (even within 1/32 in), a slope (normal, 0.0003 in an inch), an eye that sets a line
to a line (log-normal about 0.003 in), a lock that shifts (about 0.0025 in; in a fifth of the shops four times that) and
parts that scatter at one setting (about 0.002 in). A caliper to 0.0005 in reads them, off by one error within
0.0008 in. Both checks are done in any order, in half of the shops both before anything is turned; whatever is ordered
is done with the same eye and recorded; what is asked for is measured, at most eight runs. Then a part is cut where the
plan sets the stop, at one of three lengths. It prints figures and fails nothing.
"""

from __future__ import annotations

import argparse
import math
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import trued.checks  # noqa: F401  # tells the core the features that the checks declare
from trued.advice.statuses import standings
from trued.checks import find_check
from trued.equipment.shop import Shop
from trued.measure.estimate import UncertainValue, chance_between
from trued.procedure import take
from trued.standing.cuts.cut_errors import CutErrors, cut_errors
from trued.standing.feature import full_name
from trued.standing.feature_status import ActionKind, FeatureStatus
from trued.standing.history.history import Adjustment, History, Result

INCH, MIL = 25.4, 0.0254
BEGIN = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
LENGTHS = (8.0, 14.0, 21.0)  # in, of the parts cut in the end
MOST_RUNS = 8
TOLERANCE_MM = 5 * MIL


@dataclass
class Shop1:
    """One stop and its caliper; mm."""

    rng: np.random.Generator
    offset: float = field(init=False)
    slope: float = field(init=False)
    eye: float = field(init=False)
    lock: float = field(init=False)
    each: float = field(init=False)
    caliper: float = field(init=False)

    def __post_init__(self) -> None:
        draw = self.rng
        self.offset, self.slope = draw.uniform(-1 / 32, 1 / 32) * INCH, draw.normal(0.0, 3e-4)
        self.eye, self.each = (m * MIL * math.exp(draw.normal(0.0, 0.4)) for m in (3.0, 2.0))
        self.lock = 2.5 * MIL * math.exp(draw.normal(0.0, 0.4)) * (4.0 if draw.random() < 0.2 else 1.0)
        self.caliper = draw.uniform(-0.02, 0.02)

    def setting(self, reading: float) -> float:
        """How long parts come out, on the mean, with the stop set anew to that reading."""
        error = self.rng.normal(0.0, math.hypot(self.eye, self.lock))
        return float(reading + self.offset + self.slope * reading + error)

    def part(self, setting: float) -> float:
        """The next part of that setting."""
        return float(setting + self.rng.normal(0.0, self.each))

    def read(self, part: float) -> str:
        """As the caliper shows it, in."""
        seen = part + self.caliper + self.rng.normal(0.0, 0.0125)
        return f"{round(seen / INCH * 2000.0) / 2000.0:.4f}"

    def move(self, lower: float) -> None:
        """Cursor or scale brought by eye to where the offset would be lower by that much."""
        self.offset -= lower + self.rng.normal(0.0, self.eye)


def typed(shop: Shop1, check: str) -> list[str]:
    """The readings of one run, as a person types them."""
    if check == "stop-scale":
        return [f"measured@{at}={shop.read(shop.part(shop.setting(at * INCH)))}" for at in (6, 12, 20)]
    setting = shop.setting(12 * INCH)
    rows = ["set=12", *(f"part={shop.read(shop.part(setting))}" for _ in range(5))]
    if any(ask.name == "relocked" for ask in find_check(check).asks):
        rows += [f"relocked={shop.read(shop.part(shop.setting(12 * INCH)))}" for _ in range(4)]
    return rows


def found(shop: Shop1, id: str, n: int) -> Iterator[Result]:
    """What one run finds, as a book takes it."""
    check = find_check(id)
    taken = take(check, typed(shop, id), {})
    parts = getattr(check, "parts", None)
    for one in check.evaluate(taken):
        more = {"cuts": parts(taken)} if parts is not None and one.feature == "stop-offset" else {}
        name = full_name("sled", one.feature, "0")
        at = BEGIN + timedelta(hours=n)
        yield Result(at, name, one.unit, one.value, id, f"run {n}", one.limits, **more)


@dataclass(frozen=True)
class Came:
    """What came of one shop. inside: the part lay in its told interval. right: after the first move the scale was
    within tolerance where the parts were cut. two: two orders stood at once."""

    moves: int
    right_at_first: bool
    two: bool
    inside: bool
    told_mm: float
    off_mm: float
    runs: int


def follow(rng: np.random.Generator) -> Came:
    """One shop from an empty book."""
    shop = Shop1(rng)
    observed: list[Result] = []
    moved: list[Adjustment] = []
    now: tuple[FeatureStatus, ...] = ()
    todo = ["stop-scale", "stop-repeat"] if rng.random() < 0.5 else ["stop-repeat", "stop-scale"]
    two, right, hour, runs, both = False, False, 0, 0, bool(rng.random() < 0.5)
    while todo and runs < MOST_RUNS:
        hour, runs = hour + 2, runs + 1
        observed += found(shop, todo.pop(0), hour)
        now = known(observed, moved, hour)
        if both and runs == 1:
            continue
        while orders := [s for s in now if s.next is not None and s.next.do is ActionKind.MOVE and s.next.amount]:
            two = two or len(orders) > 1
            step = orders[0].next
            assert step is not None and step.amount is not None  # noqa: S101 -- as it was picked
            shop.move(step.amount if step.direction == "shorter" else -step.amount)
            if not moved:
                right = abs(shop.offset + shop.slope * 13 * INCH) <= TOLERANCE_MM
            hour += 1
            moved.append(
                Adjustment(BEGIN + timedelta(hours=hour), orders[0].feature, step.amount, step.direction, "", f"{hour}")
            )
            now = known(observed, moved, hour)
        asked = [s.next.check for s in now if s.next is not None and s.next.do is ActionKind.MEASURE and s.next.check]
        todo = todo or [check for check in dict.fromkeys(asked) if check.startswith("stop-")][:1]
    saw = cut_errors(Shop(), now, kerf_mm=2.4)
    wanted = float(rng.choice(LENGTHS)) * INCH
    reading = saw.setting_for(wanted).reading_mm
    told, part = told_of(saw, reading), shop.part(shop.setting(reading))
    below = chance_between(told, None, part)
    half = 0.025 <= below <= 0.975
    return Came(len(moved), right, two, half, 2.0 * told.u, part - wanted, runs)


def told_of(saw: CutErrors, reading: float) -> UncertainValue:
    """How long a part is told to come out."""
    own = UncertainValue.of(0.0, saw.source("setting", "S"), saw.source("stop-repeat", "cut"))
    return saw.length_at(reading) + own


def known(observed: list[Result], moved: list[Adjustment], hour: int) -> tuple[FeatureStatus, ...]:
    return standings(History(tuple(observed), tuple(moved)), BEGIN + timedelta(hours=hour, minutes=30))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--shops", type=int, default=500)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    came = [follow(np.random.default_rng([given.seed, n])) for n in range(given.shops)]
    n = len(came)
    enough = [one for one in came if one.moves and one.right_at_first]
    print(f"{n} shops, seed {given.seed}")
    print(f"parts inside their told 95 % interval: {100 * sum(one.inside for one in came) / n:.1f} %")
    for word, some in (("no move", [c for c in came if not c.moves]), ("moved", [c for c in came if c.moves])):
        if some:
            share = 100 * sum(one.inside for one in some) / len(some)
            print(f"  {word}: {share:.1f} % of {len(some)}")
    off = sorted(abs(one.off_mm) / MIL for one in came)
    print(f"parts off their size, median and 95th of 100: {off[n // 2]:.1f} and {off[int(0.95 * n)]:.1f} thousandths")
    print(f"told, plus or minus: {sum(one.told_mm for one in came) / n / MIL:.1f} thousandths on the mean")
    counts = dict(sorted(Counter(one.moves for one in came).items()))
    print(f"moves of the cursor a shop: {sum(one.moves for one in came) / n:.2f}; {counts}")
    again = sum(one.moves > 1 for one in enough)
    print(f"moved again although the first move was enough: {again} of {len(enough)}")
    print(f"two orders at once: {sum(one.two for one in came)} of {n}")
    print(f"runs a shop: {sum(one.runs for one in came) / n:.2f}")


if __name__ == "__main__":
    main()
