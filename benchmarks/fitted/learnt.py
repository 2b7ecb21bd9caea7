"""What a shop's book holds after 20 measured parts and 10 untouched pairs of five-cut runs: by the program's own way.

Five settings, four parts at each, of lengths over the range of the jobs, are typed as they are read, to 0.0005 in; so
are the strips of the runs, two a day on ten days. The checks, the standings and what the saw holds are the program's.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from benchmarks.fitted.nature import STATED, Nature

from trued.advice.statuses import standings
from trued.checks import find_check
from trued.equipment.shop import Shop
from trued.procedure import Check, FeatureResult, RunInput
from trued.procedure.reading import take
from trued.standing.cuts.cut_errors import CutErrors, cut_errors
from trued.standing.feature import full_name
from trued.standing.history.history import History, Result
from trued.usecases.shop.measured_parts import taught

INCH = 25.4
LENGTHS = (8.0, 12.0, 16.0, 20.0, 24.0)  # in
_START = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
_READ_MM, _LIMIT_MM = 0.01, 0.0254
"""Scatter of a reading with the caliper, and the most that the caliper is off."""
_RUN_RAD, _STRIP_IN = 6e-5, 15.0
"""Stated scatter of one five-cut run, and the distance at which its strip is read."""
_SCALE, _FIVE_CUT = find_check("stop-scale"), find_check("five-cut")
_ONE_RUN = take(_FIVE_CUT, ("fence_end=1.0000", "free_end=1.0000", f"length={_STRIP_IN}"), {})


def learnt(nature: Nature, kerf_mm: float) -> CutErrors:
    """What the saw holds by such a book."""
    observed = [*_parts(nature), *_runs(nature)]
    now = _START + timedelta(days=10)
    return cut_errors(Shop(), standings(History(tuple(observed)), now), kerf_mm=kerf_mm)


def _parts(nature: Nature) -> Sequence[Result]:
    """Parts measured after they were cut: one proof."""
    off, typed = nature.even(_LIMIT_MM), []
    for size in LENGTHS:
        setting = nature.one("setting")
        for _ in range(4):
            read = nature.length(size * INCH, setting) + off + float(nature.rng.normal(0.0, _READ_MM))
            typed.append(f"measured@{size}={_as_read(read / INCH)}")
    founds = taught(take(_SCALE, typed, {}))
    return [_observed(_SCALE, found, "parts", _START + timedelta(days=9.5)) for found in founds]


def _runs(nature: Nature) -> Iterator[Result]:
    """Ten pairs with nothing touched; a shop that swings more scatters more."""
    spread = _RUN_RAD * nature.spread["swing"] / STATED["swing"]
    for day in range(10):
        for hour in (0, 1):
            taper = 4.0 * _STRIP_IN * (nature.fence + float(nature.rng.normal(0.0, spread)))
            free = 1.0 + taper + float(nature.rng.normal(0.0, _READ_MM / INCH))
            (found,) = _FIVE_CUT.evaluate(_run(_as_read(free)))
            yield _observed(_FIVE_CUT, found, f"run {day}.{hour}", _START + timedelta(days=day, hours=hour))


def _run(free_end: str) -> RunInput:
    """One run as typed; of all its readings only the one at the free end is another one each time."""
    read = replace(_ONE_RUN.of("free_end")[0], typed=free_end, value=float(free_end) * INCH)
    return replace(_ONE_RUN, readings=tuple(read if one.name == read.name else one for one in _ONE_RUN.readings))


def _as_read(inches: float) -> str:
    """A caliper shows half thousandths."""
    return f"{round(inches * 2000.0) / 2000.0:.4f}"


def _observed(check: Check, found: FeatureResult, run: str, at: datetime) -> Result:
    feature = full_name("sled", found.feature, "0")
    return Result(at, feature, found.unit, found.value, check.id, run, found.limits)
