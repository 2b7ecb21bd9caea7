"""Does the chance mean what it says? Stated chances of fits against how often they came out, in simulated shops.

Every shop is independent: its errors are drawn anew, one job and one fit are drawn for it, the program states a chance,
and the parts are cut and laid together. `stated`: the simulator follows the assumptions that the program states.
`changed`: tails of Student t with 5 degrees of freedom and every spread times 0.7 to 1.5, after 20 measured parts and
10 untouched pairs of runs. `empty`: the same with nothing in the book, shown only.

Run: `python benchmarks/chance.py [--shops N] [--seed S] [--nature stated|changed|empty] [--picture FILE.svg]`.
"""

from __future__ import annotations

import argparse
import math
import sys
import time
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from pathlib import Path
from statistics import NormalDist

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import numpy as np
from benchmarks.fitted.jobs import KINDS
from benchmarks.fitted.learnt import learnt
from benchmarks.fitted.nature import Nature

from trued.drawing.shapes import Drawing, Label, Line, rectangle
from trued.drawing.shapes import Path as Run
from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.expression.tree import Side
from trued.job.file.read import read_job
from trued.job.fits.fit import judge_fit
from trued.job.fits.linear_fit import look_at
from trued.job.geometry.fit_spec import FitSpec
from trued.job.groups import default_groups
from trued.job.job import Job
from trued.render.picture.svg import svg
from trued.standing.cuts.cut_errors import assumed_capability

BINS, KERF_MM = 10, 2.4
_NORMAL = NormalDist()
_999 = _NORMAL.inv_cdf(0.9995)
_LIGHT_AND_DARK = (
    "<style>svg.drawing{color:#111;background:#fff}"
    "@media (prefers-color-scheme:dark){svg.drawing{color:#eee;background:#111}}</style>"
)


@dataclass(frozen=True)
class Told:
    """What was stated of one fit of one shop, and whether it came."""

    kind: str
    stated: float
    held: bool


@cache
def job_of(kind: str, size: int) -> Job:
    """One of the jobs, by its kind and its size in quarters of an inch."""
    return read_job(KINDS[kind].text(size / 4.0))


def shop(number: int, seed: int, nature_of: str) -> Told:
    """One shop: what the program says, and what comes."""
    rng = np.random.default_rng([seed, number])
    kind, size = tuple(KINDS)[int(rng.integers(len(KINDS)))], int(rng.integers(32, 97))
    job, nature = job_of(kind, size), Nature(rng, nature_of != "stated")
    holds = learnt(nature, KERF_MM) if nature_of == "changed" else assumed_capability(kerf_mm=KERF_MM)
    budget = UncertaintyBudget(job, holds, default_groups(job))
    spec = limited(budget, job.fits[0], rng.uniform(), rng.uniform(0.8, 1.8), two_sided=bool(rng.integers(2)))
    stated = judge_fit(budget, spec, seed=number + 1).chance

    def set_to(part: str, side: str) -> float:
        return budget.reading_mm(part, Side(side), 1) or 0.0

    comes = KINDS[kind].comes(nature, set_to, size / 4.0)
    low, high = (None if x is None else float(x) for x in (spec.at_least_mm, spec.at_most_mm))
    both = comes[:-1] if KINDS[kind].room else comes
    held = all(low is None or x >= low for x in comes) and all(high is None or x <= high for x in both)
    return Told(kind, stated, held)


def limited(budget: UncertaintyBudget, spec: FitSpec, share: float, wider: float, *, two_sided: bool) -> FitSpec:
    """The fit with limits that give it about that chance; wider: to make up for several copies."""
    spot, _ = look_at(budget, spec).worst()
    mean, sd = spot.value.value, spot.value.u * wider
    if two_sided:
        half = sd * _NORMAL.inv_cdf(0.5 + 0.5 * min(0.9999, max(0.0001, share)))
        return replace(spec, at_least_mm=Fraction(mean - half), at_most_mm=Fraction(mean + half))
    low = mean - sd * _NORMAL.inv_cdf(min(0.9999, max(0.0001, share)))
    return replace(spec, at_least_mm=Fraction(low), at_most_mm=None)


@dataclass(frozen=True)
class Bin:
    """A tenth of the chances: how many were stated in it, their mean, how many of them came, and the 99.9 % band."""

    number: int
    fits: int
    stated: float = 0.0
    seen: float = 0.0
    band: float = 0.0

    @property
    def inside(self) -> bool:
        """Whether what came lies within the band of what was stated."""
        return self.fits > 0 and abs(self.seen - self.stated) <= self.band

    def line(self) -> str:
        """A line of the table."""
        head = f"{self.number / BINS:4.1f} to {(self.number + 1) / BINS:.1f} {self.fits:7d}"
        if not self.fits:
            return head
        apart, band = 100.0 * (self.seen - self.stated), 100.0 * self.band
        told = f"{self.stated:8.3f} {self.seen:8.3f} {apart:+7.1f} {band:7.1f}"
        return f"{head} {told}  {'in' if self.inside else 'OUT'}"


def bins(told: list[Told]) -> list[Bin]:
    """Every tenth."""
    found = []
    for number in range(BINS):
        here = [one for one in told if min(BINS - 1, int(one.stated * BINS)) == number]
        if not here:
            found.append(Bin(number, 0))
            continue
        stated, seen = (float(np.mean(x)) for x in ([o.stated for o in here], [o.held for o in here]))
        band = _999 * math.sqrt(sum(o.stated * (1.0 - o.stated) for o in here)) / len(here)
        found.append(Bin(number, len(here), stated, seen, band))
    return found


def picture(found: list[Bin], title: str) -> str:
    """Stated along, come up, in hundredths, with the 99.9 % band about what was stated; light and dark."""
    shapes: list[Line | Run | Label] = [
        Line((0, 0), (10, 0), "axis"), Line((0, 0), (0, 10), "axis"), Line((0, 0), (10, 10), "axis", dashed=True),
        Label((5, -1.3), "stated, times in 100"), Label((-0.9, 10.8), "came out, times in 100", anchor="start"),
    ]  # fmt: skip
    for tick in range(0, 11, 2):
        shapes += [Label((tick, -0.5), f"{10 * tick}"), Label((-0.3, tick), f"{10 * tick}", anchor="end")]
    for one in (one for one in found if one.fits):
        x, y, band = 10.0 * one.stated, 10.0 * one.seen, 10.0 * one.band
        shapes += [Line((x, max(0.0, x - band)), (x, min(10.0, x + band)), "found")]
        shapes += [rectangle(x - 0.09, y - 0.09, 0.18, 0.18, "found")]
    words = "How often fits came out, against the chance that was stated: on the dashed line they agree. "
    words += "The bars are where 999 of 1000 such figures lie if the chances are right."
    drawn = (
        svg(Drawing(title, words, tuple(shapes)), palette="print")
        .replace("#000", "currentColor")
        .replace("#fff", "none")
    )
    head, rest = drawn.split(">", 1)
    return f"{head}>{_LIGHT_AND_DARK}{rest}\n"


def main(shops: int, seed: int, nature: str, file: Path | None) -> None:
    """The table, the figures over all of it, and the picture where a file is named."""
    start = time.perf_counter()
    told = [shop(number, seed, nature) for number in range(shops)]
    print(f"nature {nature}, {shops} independent shops, seed {seed}")
    print("stated        fits   stated     seen  points    band")
    found = bins(told)
    print("\n".join(one.line() for one in found))
    stated, held = np.array([o.stated for o in told]), np.array([o.held for o in told], dtype=float)
    brier, base = float(np.mean((stated - held) ** 2)), float(held.mean() * (1.0 - held.mean()))
    print(f"bins within their 99.9 % band: {sum(one.inside for one in found)} of {BINS}")
    apart = 100.0 * float((held - stated).mean())
    print(f"mean stated {stated.mean():.4f}, mean seen {held.mean():.4f}, apart {apart:+.2f} points")
    print(f"Brier score {brier:.4f}; always saying the base rate {base:.4f}")
    for kind in sorted({o.kind for o in told}):
        own = [o for o in told if o.kind == kind]
        more = 100.0 * (np.mean([o.held for o in own]) - np.mean([o.stated for o in own]))
        print(f"  {kind:10s} {len(own):6d} fits, seen less stated {more:+5.1f} points")
    print(f"{time.perf_counter() - start:.0f} s")
    if file is not None:
        file.write_text(picture(found, f"Chances in {shops} shops, {nature}"), encoding="utf-8")


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--shops", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--nature", choices=("stated", "changed", "empty"), default="stated")
    parser.add_argument("--picture", type=Path)
    words = parser.parse_args()
    main(words.shops, words.seed, words.nature, words.picture)
