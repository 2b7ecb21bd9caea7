"""Simulated jobs with one mis-cut part: does it move the next plan, and is it named?

    python3 tasks.py bench miscut [--jobs N] [--seed N]

Shops are those of the stop benchmark. A job's copies of one setting are measured; one of them was cut wrong by so much
more. Three kinds, each a third: beside two good mates (on a scale that is fresh, or known), by 1/32 in or more; alone
on a scale known to about 0.003 in, by 1/32 in or more; smaller ones (1/64 to 1/32 in) or alone on a fresh scale. What
the next plan would set for three lengths is compared with what it would set had that part not been measured. Then as
many jobs of which no part is mis-cut: how often is a second copy asked for all the same? It prints figures and fails
nothing.
"""

from __future__ import annotations

import argparse
import math
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks.stop import INCH, Shop1, found, told_of

from trued.advice.statuses import standings
from trued.checks import find_check
from trued.equipment.shop import Shop
from trued.procedure import take
from trued.standing.cuts.cut_errors import CutErrors, cut_errors
from trued.standing.feature import full_name
from trued.standing.history.history import History, Result
from trued.usecases.shop.measured_parts import taught

BEGIN = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
LENGTHS = (8.0, 14.0, 21.0)
SLIP_IN = 0.25  # a part that is further off is told by that alone
KINDS = ("with mates", "alone, scale known", "small, or alone on a fresh scale")

HONEST = (("alone, fresh scale", 0, True), ("alone, scale known", 0, False), ("three copies, fresh scale", 2, True))


@dataclass(frozen=True)
class Came:
    """What came of one job: how far the next setting moved, in standard deviations of a part as told; whether the
    mis-cut part was named, a second copy asked for, or the setting asked about."""

    moved: float
    named: bool
    asked: bool


def proof(at: float, sizes: Sequence[str], hour: int) -> list[Result]:
    """Measured parts as a book takes them."""
    check = find_check("stop-scale")
    taken = take(check, [f"measured@{at}={size}" for size in sizes], {})
    parts = getattr(check, "parts", None)
    rows = []
    for one in taught(taken):
        more = {"cuts": parts(taken)} if parts is not None and one.feature == "stop-offset" else {}
        name, when = full_name("sled", one.feature, "0"), BEGIN + timedelta(hours=hour)
        rows.append(Result(when, name, one.unit, one.value, "stop-scale", "proof", one.limits, **more))
    return rows


def job(rng: np.random.Generator, kind: str) -> Came:
    """One job of a shop."""
    shop, hour = Shop1(rng), 0
    before: list[Result] = []
    fresh = kind == KINDS[2] or (kind == KINDS[0] and rng.random() < 0.5)
    if not fresh:
        for hour in range(1, 6):
            before += found(shop, "stop-scale", hour)
    at = float(rng.choice((9.0, 12.0, 18.0)))
    setting = shop.setting(at * INCH)
    mates = 0 if kind == KINDS[1] or (kind == KINDS[2] and rng.random() < 0.5) else 2
    good = [shop.read(shop.part(setting)) for _ in range(mates)]
    low, high = (1 / 64, 1 / 32) if kind == KINDS[2] and mates else (1 / 32, SLIP_IN)
    wrong = float(rng.choice((-1.0, 1.0))) * math.exp(rng.uniform(math.log(low), math.log(high))) * INCH
    bad = shop.read(shop.part(setting) + wrong)
    place = int(rng.integers(mates + 1))
    without = holds([*before, *(proof(at, good, hour + 2) if good else [])], hour)
    rows = [*before, *proof(at, [*good[:place], bad, *good[place:]], hour + 2)]
    after = holds(rows, hour)
    moved = max(shift(without, after, length * INCH) for length in LENGTHS)
    return Came(moved, *judged(rows, place, hour))


def honest(rng: np.random.Generator, mates: int, *, fresh: bool) -> tuple[bool, bool]:
    """Parts of one setting, none mis-cut: whether something is asked or called mis-cut all the same, and whether the
    first lies within the standard deviation that a part there is told with."""
    shop, hour = Shop1(rng), 0
    before: list[Result] = []
    if not fresh:
        for hour in range(1, 6):
            before += found(shop, "stop-scale", hour)
    at = float(rng.choice((9.0, 12.0, 18.0)))
    setting = shop.setting(at * INCH)
    sizes = [shop.read(shop.part(setting)) for _ in range(1 + mates)]
    told = told_of(holds(before, hour), at * INCH)
    rows = [*before, *proof(at, sizes, hour + 2)]
    named = any(any(judged(rows, place, hour)) for place in range(1 + mates))
    return named, abs(float(sizes[0]) * INCH - told.value) <= told.u


def holds(rows: Sequence[Result], hour: int) -> CutErrors:
    now = standings(History(tuple(rows)), BEGIN + timedelta(hours=hour + 3)) if rows else ()
    return cut_errors(Shop(), now, kerf_mm=2.4)


def shift(without: CutErrors, after: CutErrors, wanted: float) -> float:
    """How far the exact setting went, in standard deviations of a part there as the plan would tell it."""
    one, two = ((wanted - saw.stop_offset.value) / (1.0 + saw.stop_slope.value) for saw in (without, after))
    return float(abs(one - two)) / told_of(without, wanted).u


def judged(rows: Sequence[Result], place: int, hour: int) -> tuple[bool, bool]:
    """Whether the mis-cut part is named, and whether something is asked."""
    try:
        from trued.standing.learned.learned_state import fold_history
    except ImportError:
        return False, False
    stops = getattr(fold_history(History(tuple(rows))), "stops", {})
    for log in stops.values():
        last = log.now(BEGIN + timedelta(hours=hour + 3)).judged[-1]
        return place in last.slips, bool(last.again) or last.moved
    return False, False


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--jobs", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    print(f"{given.jobs} jobs, seed {given.seed}")
    for number, kind in enumerate(KINDS):
        jobs = range(number, given.jobs, len(KINDS))
        came = [job(np.random.default_rng([given.seed, n]), kind) for n in jobs]
        moved = sorted(one.moved for one in came)
        n = len(came)
        print(f"{kind}: {n} jobs")
        print(
            f"  settings that moved by more than a quarter of what is told as uncertain: {sum(m > 0.25 for m in moved)}"
        )
        print(
            f"  moved, median, 95th of 100 and most: {moved[n // 2]:.2f}, {moved[int(0.95 * n)]:.2f}, {moved[-1]:.2f}"
        )
        print(
            f"  named: {sum(one.named for one in came)}; asked about: {sum(one.asked for one in came)}; "
            f"neither: {sum(not (one.named or one.asked) for one in came)}"
        )

    for word, mates, fresh in HONEST:
        told = [honest(np.random.default_rng([given.seed, n]), mates, fresh=fresh) for n in range(given.jobs)]
        within = [asked for asked, near in told if near]
        print(
            f"none mis-cut, {word}: asked about or named {sum(asked for asked, _ in told)} of {given.jobs}; where the "
            f"first lies within the standard deviation told {sum(within)} of {len(within)}"
        )


if __name__ == "__main__":
    main()
