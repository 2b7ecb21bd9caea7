"""Is it the saw or my measuring? What readings taken again, and runs repeated with nothing touched, can tell.

A run finds a difference of two ends, each read several times. Three things make it: the saw (the same in every run),
the seating of that run (dust, play, pressure), and reading. Reading is known from the readings of one end, seating from
how runs differ beyond that, the saw from what is left. The rule is that of the trade (twice the uncertainty of reading;
seating when runs differ by three times as much), with Student's t in place of 2 where few readings tell it.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from trued.measure.scatter import Scatter
from trued.measure.student import t_quantile

SURE = 0.975  # one side of 95 %
SEATING_OVER_READING = 3.0  # common practice
MOST_READINGS = 10  # more than so many of one end are better spent on a finer instrument
READ_MINUTES = 1.0  # to read both ends once more, common practice


class Cause(StrEnum):
    """What the difference comes from, as a person says it."""

    SAW = "the saw"
    MEASURING = "your measuring"
    CANNOT_TELL = "cannot tell yet"


@dataclass(frozen=True, slots=True)
class Run:
    """One run: the readings of the two ends, each at one marked spot, in one unit."""

    one_end: tuple[float, ...]
    other_end: tuple[float, ...]

    def __post_init__(self) -> None:
        if not (self.one_end and self.other_end):
            raise ValueError("a run needs a reading of either end")

    @property
    def difference(self) -> float:
        """Mean of the other end less mean of the one."""
        return math.fsum(self.other_end) / len(self.other_end) - math.fsum(self.one_end) / len(self.one_end)

    @property
    def share(self) -> float:
        """Variance of the difference over that of one reading."""
        return 1.0 / len(self.one_end) + 1.0 / len(self.other_end)


@dataclass(frozen=True, slots=True)
class Dominates:
    """The verdict and what it rests on, as standard deviations of one run's difference; None where it is not known.

    `cheapest`: the next thing to do that would tell more, and about how long it takes; "" when nothing is needed.
    """

    cause: Cause
    difference: float
    reading: float | None
    seating: float | None
    text: str
    cheapest: str = ""


def which_dominates(
    runs: Sequence[Run], *, run_minutes: float, usual: Scatter | None = None, unit: str = "in", digits: int = 4
) -> Dominates:
    """What makes the difference that one or more untouched runs found.

    run_minutes: how long one more run takes. usual: how far this difference scatters from run to run here, or is taken
    to; two runs alone tell that very badly. unit, digits: for the words only; the readings are all in one unit.
    """
    if not runs:
        raise ValueError("no run was given")
    mean = math.fsum(run.difference for run in runs) / len(runs)
    said = f"{abs(mean):.{digits}f} {unit}"
    ends = [end for run in runs for end in (run.one_end, run.other_end)]
    freedom = sum(len(end) - 1 for end in ends)
    seating = _runs_apart(runs)
    if freedom == 0:
        return _not_read_again(mean, said, seating)
    s = math.sqrt(sum(_square(end) for end in ends) / freedom)
    reading = s * math.sqrt(math.fsum(run.share for run in runs) / len(runs))
    known = Dominates(Cause.CANNOT_TELL, mean, reading, seating, "")
    if seating is not None and seating > SEATING_OVER_READING * reading:
        return _seating(known, runs, usual, said, unit, digits)
    if abs(mean) <= t_quantile(SURE, freedom) * reading / math.sqrt(len(runs)):
        return _measuring(known, s, said, unit, digits)
    more = f"Do the whole run once more with nothing touched (about {run_minutes:.0f} minutes)."
    if seating is None and usual is None:
        text = (
            f"The two ends differ by {said}, more than reading them again explains. One run cannot show whether "
            "the saw does that or the way this one was seated."
        )
        return _made(known, Cause.CANNOT_TELL, text, more)
    if _within_seating(known, runs, usual, freedom):
        text = (
            f"The two ends differ by {said} on the average, more than reading explains but no more than runs may "
            "differ by the way they are seated."
        )
        return _made(known, Cause.CANNOT_TELL, text, more)
    agree = f"{len(runs)} untouched runs agree on {said}" if len(runs) > 1 else f"One run shows {said}"
    text = f"{agree}, more than reading and seating explain: it is the saw."
    return _made(known, Cause.SAW, text, "")


def _within_seating(known: Dominates, runs: Sequence[Run], usual: Scatter | None, freedom: float) -> bool:
    """Whether runs that scatter as these do, and as is usual, may show such a mean with nothing out."""
    apart = known.seating or 0.0
    if usual is not None:
        usual = usual.learn((apart,) * (len(runs) - 1))
        apart, freedom = usual.s, usual.dof
    s = max(apart, known.reading or 0.0)
    beyond = abs(known.difference) > t_quantile(SURE, freedom) * s / math.sqrt(len(runs))
    return not (beyond and _one_sign(runs))


def _made(known: Dominates, cause: Cause, text: str, cheapest: str) -> Dominates:
    return Dominates(cause, known.difference, known.reading, known.seating, text, cheapest)


def _square(readings: Sequence[float]) -> float:
    mean = math.fsum(readings) / len(readings)
    return math.fsum((x - mean) ** 2 for x in readings)


def _runs_apart(runs: Sequence[Run]) -> float | None:
    """Standard deviation of the runs' differences; None for one run."""
    if len(runs) < 2:
        return None
    return math.sqrt(_square([run.difference for run in runs]) / (len(runs) - 1))


def _one_sign(runs: Sequence[Run]) -> bool:
    return len({run.difference > 0.0 for run in runs}) == 1


def _not_read_again(mean: float, said: str, seating: float | None) -> Dominates:
    text = f"The two ends differ by {said}, and no spot was read twice: how far your readings wander is not known."
    cheapest = f"Read either end twice more, at its marked spot (about {2 * READ_MINUTES:.0f} minutes)."
    return Dominates(Cause.CANNOT_TELL, mean, None, seating, text, cheapest)


def _seating(
    known: Dominates, runs: Sequence[Run], usual: Scatter | None, said: str, unit: str, digits: int
) -> Dominates:
    """Runs that differ by far more than reading: what the saw does is hidden in how each was seated."""
    text = (
        f"The runs differ by {known.seating or 0.0:.{digits}f} {unit} from one to the next, reading explains "
        f"{known.reading or 0.0:.{digits}f}: it is how each run is seated (dust, play of the bar, pressure, a stop "
        f"that moves), not the angle. The difference of {said} lies"
    )
    if not _within_seating(known, runs, usual, len(runs) - 1):
        return _made(known, Cause.SAW, f"{text} beyond it all the same: the saw is out as well.", "")
    cheapest = "Blow fence and slot clean, press to one side all the way, and do one more run with nothing touched."
    return _made(known, Cause.MEASURING, f"{text} within that.", cheapest)


def _measuring(known: Dominates, s: float, said: str, unit: str, digits: int) -> Dominates:
    text = (
        f"Your two ends differ by {said}. Your own readings of one spot wander by {s:.{digits}f} {unit}, so this "
        "does not show an error. Nothing is to be adjusted."
    )
    times = _readings_needed(abs(known.difference), s)
    if times is None:
        cheapest = "If you must know: a longer test piece, a finer instrument, or a procedure that magnifies more."
    else:
        cheapest = f"If you must know: read either end {times} times at its marked spot (about {times:.0f} minutes)."
    return _made(known, Cause.MEASURING, text, cheapest)


def _readings_needed(difference: float, s: float) -> int | None:
    """How many readings of either end would show the difference, were it to stay; None beyond a sensible number."""
    for n in range(2, MOST_READINGS + 1):
        if difference > t_quantile(SURE, 2 * (n - 1)) * s * math.sqrt(2.0 / n):
            return n
    return None
