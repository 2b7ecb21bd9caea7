"""What parts cut against the stop say of its scale: one model for every check, for measured parts and for the plan.

    length = reading + offset + slope * reading + setting + each

`setting` is drawn anew whenever the stop is set and locked, `each` with every part. A part is a fair reading of this or
a slip (cut wrong, read wrong); all ways of dividing the parts are weighed, so one mis-cut among its mates teaches
nothing, and two settings that agree are believed however far they lie from the scale as it is usually set.

Weights follow from what is usual (a scale set by eye is good to 1/64 in). What is told is what the fair parts show: of
the offset nothing is presumed, of the slope only that a tape is true to 0.0003 in an inch.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import NamedTuple

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource
from trued.standing.default_uncertainty import TYPE_B

SLIP_CHANCE = 0.03  # of parts that are cut or read wrong, common practice
SLIP_SPREAD_MM = 6.35  # 1/4 in: how far such a part is off, common practice
SLIP = 0.5  # likelier than not
DOUBTED = 0.2  # between this and SLIP a second copy is asked for
AGREE = 3.0  # times the scatter of copies: two slips nearer than this are no slips, the setting moved between them
KNOWN_LIKE = 4.0  # readings that common practice counts for, beside those of this shop
STRETCHED = 10.0  # times a true tape's slope: a tape that was pulled or joined, common practice
RARE = 1e-3
"""Of scales that are stretched like that, or whose zero nobody set (off like a slip): so rare that one part never makes
it the likelier reason, and two settings that agree do."""
UNKNOWN_MM = 1e3  # standard deviation of an offset of which nothing is presumed
_MOST_WAYS = 16  # divisions followed at once: all of four parts
_LEAST_SHARE = 1e-7  # of a division's weight in the likeliest one's: rarer ones are dropped

_Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Cuts:
    """Parts cut at one setting of the stop, in their order; mm.

    off_mm: length less what the scale read. reading_s_mm: repeat of one reading, never finer than its division.
    limit:  the instrument's limit of error, the same for all that it read. wrong, right: copies (from 0) that the
            person has said to be mis-cut, or to be right as they are.
    """

    reading_mm: float
    off_mm: tuple[float, ...]
    reading_s_mm: float
    limit: ErrorSource
    wrong: tuple[int, ...] = ()
    right: tuple[int, ...] = ()

    @property
    def mean_mm(self) -> float:
        """What they are off on the mean."""
        return math.fsum(self.off_mm) / len(self.off_mm)

    @property
    def all_right(self) -> Cuts:
        """The same with every part taken as it was typed."""
        return replace(self, right=tuple(range(len(self.off_mm))))

    @property
    def fine(self) -> bool:
        """Whether it was read finely enough to show how the stop repeats, not the instrument's own divisions."""
        return self.reading_s_mm <= TYPE_B["stop-repeat"].u


@dataclass(frozen=True, slots=True)
class Presumed:
    """What is presumed before any part was measured: standard deviations of offset (mm) and slope, and two scatters.

    Common practice until this shop has shown its own.
    """

    offset_mm: float = TYPE_B["stop-offset"].u
    slope: float = TYPE_B["stop-slope"].u
    setting: EstimatedSd = field(default_factory=lambda: EstimatedSd(TYPE_B["setting"].u, KNOWN_LIKE))
    each: EstimatedSd = field(default_factory=lambda: EstimatedSd(TYPE_B["stop-repeat"].u, KNOWN_LIKE))

    def one_setting_mm(self, copies: float = 1.0) -> float:
        """Standard deviation of the mean of so many parts of one setting."""
        return math.hypot(self.setting.s, self.each.s / math.sqrt(copies))


class Gauss(NamedTuple):
    """Offset, slope and the error of the setting that is being read: means, and covariances by first letters."""

    o: float
    s: float
    e: float
    oo: float
    os: float
    oe: float
    ss: float
    se: float
    ee: float

    @classmethod
    def start(cls, offset_mm: float, slope: float) -> Gauss:
        """Before any part."""
        return cls(0.0, 0.0, 0.0, offset_mm**2, 0.0, 0.0, slope**2, 0.0, 0.0)

    def set_anew(self, setting_mm: float) -> Gauss:
        """The stop is set."""
        return Gauss(self.o, self.s, 0.0, self.oo, self.os, 0.0, self.ss, 0.0, setting_mm**2)

    def moved(self, shift_mm: float, doubt_mm: float) -> Gauss:
        """The offset went by so much, within a doubt."""
        return self._replace(o=self.o + shift_mm, oo=self.oo + doubt_mm**2)

    def at(self, r: float) -> tuple[float, float, _Vector]:
        """What a part cut at that reading is off: mean, variance, covariance of it with the three."""
        a, b, c = self.oo + r * self.os + self.oe, self.os + r * self.ss + self.se, self.oe + r * self.se + self.ee
        return self.o + r * self.s + self.e, a + r * b + c, (a, b, c)

    def found(self, reading_mm: float, off_mm: float, variance: float) -> tuple[Gauss, _Vector]:
        """After a fair part, and how much it moved each of the three."""
        mean, own, (a, b, c) = self.at(reading_mm)
        total, miss = own + variance, off_mm - mean
        p, q, r = a / total, b / total, c / total
        after = Gauss(
            *(self.o + p * miss, self.s + q * miss, self.e + r * miss),
            *(self.oo - p * a, self.os - p * b, self.oe - p * c, self.ss - q * b, self.se - q * c, self.ee - r * c),
        )
        return after, (p, q, r)


@dataclass(frozen=True, slots=True)
class Way:
    """One way of dividing all parts into fair ones and slips, with its weight (log).

    usual: what it believes from the usual spread of scales, which weighs it. seen: what its fair parts show by
    themselves; flat is its weight by these. shared: how far one mm of an instrument's own error moves the three.
    """

    log: float
    usual: Gauss
    seen: Gauss
    shared: Mapping[ErrorSource, _Vector]
    fair: int = 0
    slips: frozenset[tuple[int, int]] = frozenset()
    true_tape: bool = True
    flat: float = 0.0

    @classmethod
    def start(cls, presumed: Presumed, share: float = 1.0, *, true_tape: bool = True, zeroed: bool = True) -> Way:
        """Before any part."""
        slope, log = presumed.slope * (1.0 if true_tape else STRETCHED), math.log(share)
        usual = Gauss.start(presumed.offset_mm if zeroed else SLIP_SPREAD_MM, slope)
        return cls(log, usual, Gauss.start(UNKNOWN_MM, slope), {}, true_tape=true_tape, flat=log)

    @classmethod
    def starts(cls, presumed: Presumed) -> list[Way]:
        """All that a scale may be before any part."""
        usual, unset = cls.start(presumed, 1.0 - 2.0 * RARE), cls.start(presumed, RARE, zeroed=False)
        return [usual, unset, cls.start(presumed, RARE, true_tape=False)]

    @property
    def told(self) -> Gauss:
        """What it tells: while no part of it is fair, only what is usual is known."""
        return self.seen if self.fair else self.usual

    def set_anew(self, setting_mm: float) -> Way:
        """The stop is set."""
        shared = {source: (a, b, 0.0) for source, (a, b, _) in self.shared.items()}
        return replace(self, usual=self.usual.set_anew(setting_mm), seen=self.seen.set_anew(setting_mm), shared=shared)

    def moved(self, shift_mm: float, doubt_mm: float) -> Way:
        """Scale or cursor went by so much, as far as is known."""
        return replace(self, usual=self.usual.moved(shift_mm, doubt_mm), seen=self.seen.moved(shift_mm, doubt_mm))

    def with_fair(self, cuts: Cuts, copy: int, variance: float, *, sure: bool) -> Way:
        """With that part a fair reading."""
        off = cuts.off_mm[copy]
        mean, own, _ = self.usual.at(cuts.reading_mm)
        by_itself, wide, _ = self.seen.at(cuts.reading_mm)
        fair = 0.0 if sure else math.log1p(-SLIP_CHANCE)
        log = self.log + fair + _log_normal(off - mean, own + variance)
        flat = self.flat + fair + _log_normal(off - by_itself, wide + variance)
        usual, _ = self.usual.found(cuts.reading_mm, off, variance)
        seen, gain = self.seen.found(cuts.reading_mm, off, variance)
        shared = _shared(self.shared, cuts, gain)
        return replace(self, log=log, flat=flat, usual=usual, seen=seen, shared=shared, fair=self.fair + 1)

    def with_slip(self, cuts: Cuts, place: tuple[int, int], *, sure: bool) -> Way:
        """With that part a slip, which says nothing of the scale."""
        log = 0.0 if sure else math.log(SLIP_CHANCE) + _log_normal(cuts.off_mm[place[1]], SLIP_SPREAD_MM**2)
        return replace(self, log=self.log + log, flat=self.flat + log, slips=self.slips | {place})


def read_setting(ways: Sequence[Way], number: int, cuts: Cuts, presumed: Presumed) -> list[Way]:
    """All ways after the parts of one more setting, the likeliest first."""
    variance = presumed.each.s**2 + (0.0 if cuts.fine else cuts.reading_s_mm**2)
    now = [way.set_anew(presumed.setting.s) for way in ways]
    for copy in range(len(cuts.off_mm)):
        now = _best(_divided(now, cuts, number, copy, variance))
    return now


def _divided(ways: Sequence[Way], cuts: Cuts, number: int, copy: int, variance: float) -> Iterator[Way]:
    wrong, right = copy in cuts.wrong, copy in cuts.right
    for way in ways:
        if not wrong:
            yield way.with_fair(cuts, copy, variance, sure=right)
        if not right:
            yield way.with_slip(cuts, (number, copy), sure=wrong)


def _best(ways: Iterator[Way]) -> list[Way]:
    kept = sorted(ways, key=lambda way: -way.log)[:_MOST_WAYS]
    least = kept[0].log + math.log(_LEAST_SHARE)
    return [way for way in kept if way.log >= least]


def _shared(shared: Mapping[ErrorSource, _Vector], cuts: Cuts, gain: _Vector) -> dict[ErrorSource, _Vector]:
    """What one mm of each instrument's error moves, after a part that `cuts.limit` is in."""
    after: dict[ErrorSource, _Vector] = {}
    for source in {**shared, cuts.limit: (0.0, 0.0, 0.0)}:
        was = shared.get(source, (0.0, 0.0, 0.0))
        own = was[0] + cuts.reading_mm * was[1] + was[2]
        more = (1.0 if source == cuts.limit else 0.0) - own
        after[source] = (was[0] + gain[0] * more, was[1] + gain[1] * more, was[2] + gain[2] * more)
    return after


def likelier_a_tape(ways: Sequence[Way]) -> bool:
    """Whether the scale is likelier a true tape than a stretched one, by what the parts show of its slope alone."""
    most = max(way.flat for way in ways)
    weights = [(math.exp(way.flat - most), way.true_tape) for way in ways]
    return 2.0 * math.fsum(weight for weight, tape in weights if tape) >= math.fsum(weight for weight, _ in weights)


def shares(ways: Sequence[Way]) -> list[float]:
    """The weight of each way, 1 in all."""
    most = max(way.log for way in ways)
    weights = [math.exp(way.log - most) for way in ways]
    total = math.fsum(weights)
    return [weight / total for weight in weights]


def slip_chances(ways: Sequence[Way], number: int, copies: int) -> tuple[float, ...]:
    """The chance that each part of one setting is a slip."""
    weighed = list(zip(shares(ways), ways, strict=True))
    return tuple(
        min(1.0, math.fsum(share for share, way in weighed if (number, copy) in way.slips)) for copy in range(copies)
    )


def moved_between(cuts: Cuts, chances: Sequence[float], each_mm: float) -> bool:
    """Whether what looks like slips may be a setting that moved: as many as fair ones, or two that agree."""
    off = [n for n, chance in enumerate(chances) if chance > SLIP and n not in cuts.wrong]
    fair = [n for n, chance in enumerate(chances) if chance <= SLIP]
    if not off or not fair:
        return len(off) > 1 and _two_agree(cuts, off, each_mm)
    return len(off) >= len(fair) or _two_agree(cuts, off, each_mm)


def _two_agree(cuts: Cuts, copies: Sequence[int], each_mm: float) -> bool:
    values = sorted(cuts.off_mm[n] for n in copies)
    return any(b - a <= AGREE * each_mm for a, b in pairwise(values))


def _log_normal(miss: float, variance: float) -> float:
    return -0.5 * (miss * miss / variance + math.log(2.0 * math.pi * variance))
