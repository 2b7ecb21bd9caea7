"""Is it the saw or my measuring? What readings taken again, and runs repeated with nothing touched, can tell.

Three things make what a run finds: the saw (the same in every run), the seating of that run (dust, play, pressure),
and reading. Reading is known from readings of one spot, seating from how runs differ beyond it, the saw from the rest.
The rule is that of the trade (twice the uncertainty of reading; seating when runs differ by three times as much), with
Student's t in place of 2 where few readings tell it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.distribution.student import t_quantile

SURE = 0.975  # one side of 95 %
SEATING_OVER_READING = 3.0  # common practice
MOST_TIMES = 5  # more readings than so many times as now are better spent on a finer instrument


class Cause(StrEnum):
    """What the difference comes from, as a person says it.

    METHOD: two runs with nothing touched between lie so far apart that they were not done in one way.
    """

    SAW = "the saw"
    MEASURING = "your measuring"
    CANNOT_TELL = "not known yet"
    METHOD = "the method"


@dataclass(frozen=True, slots=True)
class Run:
    """One run: how far it lies from what is wanted, and what reading does to that, as standard deviations.

    reading: drawn anew in each run, known like from `freedom` readings. limit: the instrument's, the same in all runs.
    """

    difference: float
    reading: float
    limit: float = 0.0
    freedom: float = math.inf

    def __post_init__(self) -> None:
        if not (self.reading >= 0.0 and self.limit >= 0.0 and self.freedom > 0.0):
            raise ValueError("reading and limit are 0 or more, freedom is above 0")


@dataclass(frozen=True, slots=True)
class DominantError:
    """The verdict and what it rests on, as standard deviations of one run's difference; seating None for one run.

    `cheapest`: the next thing to do that would tell more; "" when nothing is needed.
    """

    cause: Cause
    difference: float
    reading: float
    seating: float | None
    text: str
    cheapest: str = ""


def which_dominates(
    runs: Sequence[Run],
    *,
    run_minutes: float,
    say: Callable[[float], str],
    usual: EstimatedSd | None = None,
    away: str = "off",
) -> DominantError:
    """What makes the difference that one or more untouched runs found.

    run_minutes: how long one more run takes. say: a number of the runs' unit in words. usual: how far runs scatter here
    by seating and reading, or are taken to, as known from all of them; two runs alone tell that very badly.
    away: what the difference is from, in words.
    """
    if not runs:
        raise ValueError("no run was given")
    mean = math.fsum(run.difference for run in runs) / len(runs)
    reading = math.sqrt(math.fsum(run.reading**2 for run in runs) / len(runs))
    seating = _runs_apart(runs)
    known = DominantError(Cause.CANNOT_TELL, mean, reading, seating, "")
    said = f"{say(abs(mean))} {away}"
    if seating is not None and seating > SEATING_OVER_READING * reading:
        return _seating(known, runs, usual, say, said)
    limit = max(run.limit for run in runs)
    freedom = math.fsum(run.freedom for run in runs)
    by_reading = t_quantile(SURE, freedom) * math.hypot(reading / math.sqrt(len(runs)), limit)
    if abs(mean) <= by_reading:
        return _measuring(known, by_reading, limit, say, said)
    more = f"Do the whole run once more with nothing touched (about {run_minutes:.0f} minutes)."
    if seating is None and usual is None:
        text = (
            f"{said} is more than reading again explains. One run cannot show whether the saw does that or the way "
            "this one was seated."
        )
        return _made(known, Cause.CANNOT_TELL, text, more)
    if _within_seating(known, runs, usual, freedom):
        text = f"{said} is more than reading explains, but no more than runs may differ by the way they are seated."
        return _made(known, Cause.CANNOT_TELL, text, more)
    agree = f"{len(runs)} untouched runs agree on {said}" if len(runs) > 1 else f"one run shows {said}"
    return _made(known, Cause.SAW, f"{agree}, more than reading and seating explain.", "")


def _within_seating(known: DominantError, runs: Sequence[Run], usual: EstimatedSd | None, freedom: float) -> bool:
    """Whether runs that scatter as these do, and as is usual, may show such a mean with nothing out."""
    apart = known.seating or 0.0
    if usual is not None:
        apart, freedom = usual.s, usual.dof
    apart = max(apart, known.reading)
    beyond = abs(known.difference) > t_quantile(SURE, freedom) * apart / math.sqrt(len(runs))
    return not (beyond and len({run.difference > 0.0 for run in runs}) == 1)


def _made(known: DominantError, cause: Cause, text: str, cheapest: str) -> DominantError:
    return DominantError(cause, known.difference, known.reading, known.seating, text, cheapest)


def _runs_apart(runs: Sequence[Run]) -> float | None:
    """Standard deviation of the runs' differences; None for one run."""
    if len(runs) < 2:
        return None
    mean = math.fsum(run.difference for run in runs) / len(runs)
    return math.sqrt(math.fsum((run.difference - mean) ** 2 for run in runs) / (len(runs) - 1))


def _seating(
    known: DominantError, runs: Sequence[Run], usual: EstimatedSd | None, say: Callable[[float], str], said: str
) -> DominantError:
    """Runs that differ by far more than reading: what the saw does is hidden in how each was seated."""
    text = (
        f"the runs differ by {say(known.seating or 0.0)} from one to the next, reading explains {say(known.reading)}: "
        "it is how each run is seated (dust, play, pressure, a stop that moves), not what was set. "
        f"{said} lies"
    )
    if not _within_seating(known, runs, usual, len(runs) - 1.0):
        return _made(known, Cause.SAW, f"{text} beyond it all the same: the saw is out as well.", "")
    cheapest = "Blow all faces clean, press to one side all the way, and do one more run with nothing touched."
    return _made(known, Cause.MEASURING, f"{text} within that.", cheapest)


def _measuring(
    known: DominantError, by_reading: float, limit: float, say: Callable[[float], str], said: str
) -> DominantError:
    text = f"{said}: reading alone can do {say(by_reading)}, so this shows no error. Nothing is to be turned."
    times = _times_more(abs(known.difference), by_reading, t_quantile(SURE, math.inf) * limit)
    if times is None:
        cheapest = "If you must know: a longer test piece, a finer instrument, or a check that magnifies more."
    else:
        cheapest = f"If you must know: read each spot {times} times as often as now."
    return _made(known, Cause.MEASURING, text, cheapest)


def _times_more(difference: float, by_reading: float, by_limit: float) -> int | None:
    """How many times the readings would show the difference, were it to stay; None beyond a sensible number.

    What wanders shrinks with the root of their number, the instrument's limit does not.
    """
    left = difference**2 - by_limit**2
    if left <= 0.0:
        return None
    times = math.floor((by_reading**2 - by_limit**2) / left) + 1
    return max(times, 2) if times <= MOST_TIMES else None
