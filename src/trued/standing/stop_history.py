"""All that parts, moves and events of one stop come to: its offset and slope at each angle, and how it is set anew.

Cursor and scale are one thing: whatever was cut against the stop, by whichever check, is an entry of one log, and a
move of cursor or scale shifts the offset at every angle. The two scatters belong to the stop, not to where its cursor
stands, so they outlive every move.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import lru_cache
from itertools import groupby

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.random_walk import walk_sd
from trued.standing.repeats.repeat_runs import DAY, Innovation
from trued.standing.repeats.variance_update import updated
from trued.standing.stop_model import (
    AGREE,
    DOUBTED,
    SLIP,
    Cuts,
    Gauss,
    Presumed,
    Way,
    likelier_a_tape,
    moved_between,
    read_setting,
    shares,
    slip_chances,
)

OFFSET, SLOPE, SETTING, EACH = "stop-offset", "stop-slope", "stop-setting", "stop-repeat"
LABEL = "setting the stop and cutting a part"
MOST = 64
"""Settings that count: more say hardly more, and the older ones speak of older days."""
_ROUNDS = 5  # at most; mostly the second changes nothing
SLOPE_KEY = ":slope"
UNTOLD, SHIFT_MM = 0.01, 40 * 0.0254
"""One run in a hundred comes after a change that nobody told, common practice; by how much: the event scale-moved."""
LEAST_SEEN = 1.0
"""Degrees of freedom from which the scatter of setting the stop anew counts as seen here: two settings compared."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing that happened at a stop: parts of one setting at an angle, or a shift of the offset that is known
    within a doubt; mm. `angle` is "" where it shifted at every angle; by_hand: a line was brought to a line by eye.
    after_shift: something was changed before these parts that nobody told.
    """

    at: datetime
    angle: str = ""
    cuts: Cuts | None = None
    run: str = ""
    shift_mm: float = 0.0
    doubt_mm: float = 0.0
    by_hand: bool = False
    after_shift: bool = False


@dataclass(frozen=True, slots=True)
class Judged:
    """The parts of one setting: the chance of each to be a slip, and whether the setting may have moved among them.

    expected: what a part there was expected to be off and its standard deviation, before these were seen; mm.
    alone: a single part, farther from that than settings of this stop lie apart, and no other setting agrees with it.
    apart: copies that no mate agrees with.
    shifted: its run lies elsewhere than those before, and nobody told what was changed.
    """

    run: str
    angle: str
    cuts: Cuts
    chances: tuple[float, ...]
    moved: bool
    expected: tuple[float, float]
    alone: bool = False
    apart: tuple[int, ...] = ()
    shifted: bool = False

    @property
    def slips(self) -> tuple[int, ...]:
        """Copies that are likelier slips than not, and are not explained by a setting that moved."""
        return () if self.moved else tuple(n for n, chance in enumerate(self.chances) if chance > SLIP)

    @property
    def wants_second(self) -> bool:
        """A lone part of which it is not clear whether it is a slip."""
        return len(self.chances) == 1 and DOUBTED <= self.chances[0] <= SLIP

    @property
    def again(self) -> tuple[int, ...]:
        """Copies of which a second one is asked for: neither likelier slips than not nor borne out by another part."""
        return (0,) if self.wants_second or self.alone else self.apart

    @property
    def doubted(self) -> tuple[int, ...]:
        """Copies that do not count until a second one or the person's word bears them out."""
        return (*self.slips, *self.again)


@dataclass(frozen=True, slots=True)
class StopNow:
    """What is believed: by angle (offset, slope), which share their errors; how the stop is set anew.

    setting: how it is set anew, common practice and this shop's parts together; `seen` once these tell of it.
    at_best: by angle, the least that the scale is off by anywhere, as a standard deviation, mm.
    sloped: angles at which parts of two lengths or more tell of the slope.
    """

    scales: Mapping[str, tuple[UncertainValue, UncertainValue]]
    setting: EstimatedSd
    each: EstimatedSd
    seen: bool
    at_best: Mapping[str, float]
    sloped: frozenset[str]
    judged: tuple[Judged, ...]

    @property
    def shifted(self) -> bool:
        """Whether the last run lies elsewhere than those before, with nothing told: it is read again first."""
        return bool(self.judged) and self.judged[-1].shifted

    @property
    def one_setting_mm(self) -> float:
        """Standard deviation of a single part at a setting made anew."""
        return math.hypot(self.setting.s, self.each.s)


@dataclass(frozen=True, slots=True)
class StopLog:
    """The entries of one stop in order."""

    entries: tuple[Entry, ...] = ()

    def with_parts(self, at: datetime, angle: str, run: str, settings: Sequence[Cuts]) -> StopLog:
        """Parts were measured."""
        more = (*self.entries, *(Entry(at, angle, cuts, run) for cuts in settings))
        full = [n for n, entry in enumerate(more) if entry.cuts is not None]
        return StopLog(more if len(full) <= MOST else more[full[-MOST] :])

    def moved(self, at: datetime, lower_mm: float) -> StopLog:
        """Cursor or scale was moved by hand so that every offset falls by that much."""
        return StopLog((*self.entries, Entry(at, shift_mm=-lower_mm, by_hand=True)))

    def doubted(self, at: datetime, angle: str, doubt_mm: float) -> StopLog:
        """Something happened that may have shifted the offset at that angle."""
        return StopLog((*self.entries, Entry(at, angle, doubt_mm=doubt_mm)))

    def now(self, at: datetime, presumed: Presumed | None = None) -> StopNow:
        """What all of it comes to at that time."""
        start = presumed or Presumed()
        known, final, judged = _worked_out(self.entries, start)
        scales, best = {}, {}
        for angle, ways in final.ways.items():
            belief = _belief(_aged(ways, final.last[angle], at))
            if belief is not None:
                scales[angle], best[angle] = _uncertain(belief, angle, known), belief.least
        seen = known.setting.dof - start.setting.dof >= LEAST_SEEN
        return StopNow(scales, known.setting, known.each, seen, best, _sloped(self.entries), judged)


@lru_cache(maxsize=64)
def _worked_out(entries: tuple[Entry, ...], start: Presumed) -> tuple[Presumed, _Read, tuple[Judged, ...]]:
    """The scatters, the ways, and how each setting is judged: asked for again and again with the same entries."""
    known, second = _settled(entries, start)
    begun = untold(entries, second.judged, _learnt(entries, second, start, by_run=True))
    if begun:
        entries = tuple(_with_shifts(entries, begun))
        known, second = _settled(entries, start)
    held = frozenset(n for n, one in second.judged.items() if one.moved)
    runs = {entry.run for entry in entries if entry.cuts is not None and entry.after_shift}
    judged = {n: replace(one, shifted=one.run in runs) for n, one in second.judged.items()}
    judged = {n: replace(one, apart=_apart(n, judged, start)) for n, one in judged.items()}
    for n in judged:
        one = replace(judged[n], expected=_expected_of(n, entries, judged, known))
        judged[n] = replace(one, alone=_alone(n, entries, judged | {n: one}, known, second.ways))
    counted = tuple(_without(entry, judged[n].doubted) if n in judged else entry for n, entry in enumerate(entries))
    return known, second if counted == entries and not held else _read(counted, known, held), tuple(judged.values())


def _without(entry: Entry, copies: Sequence[int]) -> Entry:
    """The same with these copies no readings of the scale."""
    if entry.cuts is None or not copies:
        return entry
    return replace(entry, cuts=replace(entry.cuts, wrong=tuple(sorted({*entry.cuts.wrong, *copies}))))


def _settled(entries: Sequence[Entry], start: Presumed) -> tuple[Presumed, _Read]:
    """The scatters and what is read with them: once a stop is known as loose, parts far off are no slips."""
    known, read = start, _read(entries, start)
    for _ in range(_ROUNDS):
        known = _learnt(entries, read, start)
        again = _read(entries, known)
        same = all(one.slips == read.judged[n].slips for n, one in again.judged.items())
        read = again
        if same:
            break
    return known, read


def _with_shifts(entries: Sequence[Entry], begun: frozenset[int]) -> Iterator[Entry]:
    for number, entry in enumerate(entries):
        if number in begun:
            yield Entry(entry.at, entry.angle, doubt_mm=SHIFT_MM)
            yield replace(entry, after_shift=True)
        else:
            yield entry


def untold(entries: Sequence[Entry], judged: Mapping[int, Judged], known: Presumed) -> frozenset[int]:
    """Where a run of two settings or more begins that agree with each other and not with those before: scale, cursor,
    blade or facing was changed and nobody told. `known` holds what settings of one run scatter."""
    lines: dict[str, Gauss] = {}
    begun: set[int] = set()
    numbered = [(n, e) for n, e in enumerate(entries) if e.cuts is None or not judged[n].moved]
    for (run, angle), group in groupby(numbered, key=lambda pair: (pair[1].run, pair[1].angle)):
        some = list(group)
        if not run:
            for _, entry in some:
                doubt = math.hypot(entry.doubt_mm, known.setting.s) if entry.by_hand else entry.doubt_mm
                for name in lines if not angle else (angle,) if angle in lines else ():
                    lines[name] = lines[name].moved(entry.shift_mm, doubt)
            continue
        before, cuts = lines.get(angle), [entry.cuts for _, entry in some if entry.cuts is not None]
        stays, still = _followed(before or Way.start(known).seen, cuts, known)
        lines[angle] = still
        if before is not None and len(cuts) > 1:
            goes, after = _followed(before.moved(0.0, SHIFT_MM), cuts, known)
            if math.log(UNTOLD) + goes > math.log1p(-UNTOLD) + stays:
                begun.add(some[0][0])
                lines[angle] = after
    return frozenset(begun)


def _followed(gauss: Gauss, settings: Sequence[Cuts], known: Presumed) -> tuple[float, Gauss]:
    """Log likelihood of some settings, and what is believed after them."""
    log = 0.0
    for cuts in settings:
        gauss, own = gauss.set_anew(known.setting.s), known.each.s**2 / len(cuts.off_mm)
        mean, spread, _ = gauss.at(cuts.reading_mm)
        log -= 0.5 * ((cuts.mean_mm - mean) ** 2 / (spread + own) + math.log(spread + own))
        gauss, _ = gauss.found(cuts.reading_mm, cuts.mean_mm, own)
    return log, gauss


def _apart(number: int, judged: Mapping[int, Judged], start: Presumed) -> tuple[int, ...]:
    """Copies that lie farther from every mate than mates of this stop lie apart, as its other settings show."""
    one = judged[number]
    if len(one.cuts.off_mm) < 2 or one.moved:
        return ()
    each = start.each
    for n, two in judged.items():
        if n != number and two.cuts.fine and not two.moved:
            each = each.learn_repeats([off for c, off in enumerate(two.cuts.off_mm) if c not in two.slips])
    far = AGREE * math.hypot(each.s, 0.0 if one.cuts.fine else one.cuts.reading_s_mm)
    out = {*one.slips, *one.cuts.wrong}
    fair = [(c, off) for c, off in enumerate(one.cuts.off_mm) if c not in out]
    return tuple(
        c
        for c, off in fair
        if c not in one.cuts.right and len(fair) > 1 and all(abs(off - x) > far for n, x in fair if n != c)
    )


def _expected_of(
    number: int, entries: Sequence[Entry], judged: Mapping[int, Judged], known: Presumed
) -> tuple[float, float]:
    """What a part of that setting was expected to be off by what counts of the settings before it."""
    one, before = judged[number], entries[:number]
    if not any(judged[n].doubted for n in judged if n < number):
        return one.expected
    held = frozenset(n for n, two in judged.items() if two.moved)
    counted = [_without(entry, judged[n].doubted) if n in judged else entry for n, entry in enumerate(before)]
    read, at = _read(counted, known, held), entries[number].at
    ways = read.ways.get(one.angle) or Way.starts(known)
    return _expected(_aged(ways, read.last.get(one.angle, at), at), one.cuts, known)


def _alone(
    number: int,
    entries: Sequence[Entry],
    judged: Mapping[int, Judged],
    known: Presumed,
    ways: Mapping[str, Sequence[Way]],
) -> bool:
    """Whether a single part stands alone: 95 in 100 settings lie within twice their scatter."""
    one, far = judged[number], 2.0 * known.one_setting_mm()
    if len(one.cuts.off_mm) > 1 or one.slips or one.cuts.right or one.cuts.wrong:
        return False
    if abs(one.cuts.mean_mm - one.expected[0]) <= far:
        return False
    stood = _unmoved(entries, one.angle)
    others = {n: entry for n, entry in stood.items() if n != number and n in judged and not judged[n].moved}
    near = math.sqrt(2.0) * far
    if any(abs(_mean(stood[number]) - _mean(entry)) <= near for n, entry in others.items() if not judged[n].slips):
        return False
    tape = likelier_a_tape(ways[one.angle])
    return not others or not _foretold(stood[number], tuple(others.values()), known, true_tape=tape)


def _mean(entry: Entry) -> float:
    return entry.cuts.mean_mm if entry.cuts is not None else 0.0


def _unmoved(entries: Sequence[Entry], angle: str) -> dict[int, Entry]:
    """The parts at that angle by their place, each as if no move had been made."""
    stood, shift = {}, 0.0
    for n, entry in enumerate(entries):
        if entry.cuts is None:
            shift += entry.shift_mm if entry.angle in ("", angle) else 0.0
        elif entry.angle == angle:
            off = tuple(off - shift for off in entry.cuts.off_mm)
            stood[n] = replace(entry, cuts=replace(entry.cuts, off_mm=off))
    return stood


def _foretold(one: Entry, others: Sequence[Entry], known: Presumed, *, true_tape: bool) -> bool:
    """Whether the other settings foretell that part: together they show what none of them shows alone, as a slope."""
    ways = [way for way in _read(others, known).ways[one.angle] if way.true_tape is true_tape]
    way = max(ways, key=lambda way: way.log, default=None)
    if one.cuts is None or way is None or not way.fair:
        return False
    mean, spread, _ = way.seen.set_anew(known.setting.s).at(one.cuts.reading_mm)
    return abs(one.cuts.mean_mm - mean) <= 2.0 * math.sqrt(spread + known.each.s**2)


def _sloped(entries: Sequence[Entry]) -> frozenset[str]:
    at = {(entry.angle, entry.cuts.reading_mm) for entry in entries if entry.cuts is not None}
    return frozenset(angle for angle, _ in at if sum(angle == other for other, _ in at) > 1)


@dataclass(slots=True)
class _Read:
    """The entries read through once: by angle the ways and when they were last touched, by entry how it was judged."""

    ways: dict[str, list[Way]]
    last: dict[str, datetime]
    judged: dict[int, Judged]


def _read(entries: Sequence[Entry], known: Presumed, held: frozenset[int] = frozenset()) -> _Read:
    """With scatters as given; the settings that are `held` back teach nothing."""
    read, expected = _Read({}, {}, {}), {}
    for number, entry in enumerate(entries):
        if entry.cuts is None:
            doubt = math.hypot(entry.doubt_mm, known.setting.s) if entry.by_hand else entry.doubt_mm
            for angle in read.ways if not entry.angle else (entry.angle,) if entry.angle in read.ways else ():
                aged = _aged(read.ways[angle], read.last[angle], entry.at)
                read.ways[angle] = [way.moved(entry.shift_mm, doubt) for way in aged]
                read.last[angle] = entry.at
        elif number not in held:
            ways = read.ways.get(entry.angle) or Way.starts(known)
            ways = _aged(ways, read.last.get(entry.angle, entry.at), entry.at)
            expected[number] = _expected(ways, entry.cuts, known)
            read.ways[entry.angle] = read_setting(ways, number, entry.cuts, known)
            read.last[entry.angle] = entry.at
    for number, entry in enumerate(entries):
        if entry.cuts is not None and number not in held:
            chances = slip_chances(read.ways[entry.angle], number, len(entry.cuts.off_mm))
            moved = moved_between(entry.cuts, chances, known.each.s)
            read.judged[number] = Judged(entry.run, entry.angle, entry.cuts, chances, moved, expected[number])
    return read


def _aged(ways: list[Way], since: datetime, at: datetime) -> list[Way]:
    drift, days = walk_sd(OFFSET), (at - since).total_seconds() / DAY
    if drift is None or days <= 0.0:
        return ways
    return [way.moved(0.0, drift.s * math.sqrt(days)) for way in ways]


def _expected(ways: Sequence[Way], cuts: Cuts, known: Presumed) -> tuple[float, float]:
    """What a part is expected to be off at that reading."""
    mean = square = 0.0
    for share, way in zip(shares(ways), ways, strict=True):
        m, own, _ = way.usual.set_anew(known.setting.s).at(cuts.reading_mm)
        mean, square = mean + share * m, square + share * (own + m * m)
    return mean, math.sqrt(max(0.0, square - mean * mean) + known.each.s**2)


def _learnt(entries: Sequence[Entry], read: _Read, start: Presumed, *, by_run: bool = False) -> Presumed:
    """The two scatters, from the parts that the likeliest way calls fair; `by_run`: by what settings of one run differ
    alone, so that a shift between runs does not count as scatter."""
    setting, each = start.setting, start.each
    lines: dict[str, _Line] = {}
    likeliest = {angle: _likeliest(found) for angle, found in read.ways.items()}
    for number, entry in enumerate(entries):
        cuts, angle = entry.cuts, entry.angle
        if cuts is None:
            doubt = math.hypot(entry.doubt_mm, setting.s) if entry.by_hand else entry.doubt_mm
            for name in lines if not angle else (angle,) if angle in lines else ():
                lines[name].usual = lines[name].usual.moved(entry.shift_mm, doubt)
            continue
        fair = [off for n, off in enumerate(cuts.off_mm) if (number, n) not in likeliest[angle].slips]
        if read.judged[number].moved or not fair:
            continue
        each = each.learn_repeats(fair) if cuts.fine else each
        own = (each.s**2 + (0.0 if cuts.fine else cuts.reading_s_mm**2)) / len(fair)
        line = lines.setdefault(
            f"{angle} {entry.run}" if by_run else angle,
            _Line(Way.start(start, true_tape=likeliest[angle].true_tape).seen),
        )
        setting = updated(setting, line.miss(cuts.reading_mm, math.fsum(fair) / len(fair), setting.s, own))
        line.take(cuts.reading_mm, math.fsum(fair) / len(fair), setting.s, own)
    return replace(start, setting=setting, each=each)


def _likeliest(ways: Sequence[Way]) -> Way:
    tape = likelier_a_tape(ways)
    return max((way for way in ways if way.true_tape is tape), key=lambda way: way.log)


@dataclass(slots=True)
class _Line:
    """Offset and slope as the settings so far show them; `errors`: how far the error of each of these moved the two."""

    usual: Gauss
    errors: list[tuple[float, float]] = field(default_factory=list)

    def miss(self, reading_mm: float, off_mm: float, setting_mm: float, own: float) -> Innovation:
        """The next setting against what was foretold: how much of that is the scatter of setting the stop."""
        mean, spread, _ = self.usual.set_anew(0.0).at(reading_mm)
        gain = math.sqrt(1.0 + math.fsum((a + b * reading_mm) ** 2 for a, b in self.errors))
        other = spread + setting_mm**2 + own - (gain * setting_mm) ** 2
        return Innovation(off_mm - mean, gain, max(other, own))

    def take(self, reading_mm: float, off_mm: float, setting_mm: float, own: float) -> None:
        """After it."""
        self.usual, (p, q, _) = self.usual.set_anew(setting_mm).found(reading_mm, off_mm, own)
        self.errors = [(a - p * (a + b * reading_mm), b - q * (a + b * reading_mm)) for a, b in self.errors]
        self.errors.append((p, q))


@dataclass(frozen=True, slots=True)
class _Belief:
    """Offset and slope with their covariances (mm, mm/mm), and what one mm of each instrument's error moves."""

    offset: float
    slope: float
    oo: float
    os: float
    ss: float
    shared: Mapping[ErrorSource, tuple[float, float]]

    @property
    def least(self) -> float:
        """Standard deviation of the scale's error at the reading where it is known best."""
        return math.sqrt(max(0.0, self.oo - (self.os**2 / self.ss if self.ss > 0.0 else 0.0)))


def _belief(ways: Sequence[Way]) -> _Belief | None:
    """The mean over all ways with its spread; None while nothing was likelier learnt than not.

    Of a true tape and a stretched one the likelier alone counts: one length cannot tell them apart.
    """
    tape = likelier_a_tape(ways)
    ways = [way for way in ways if way.true_tape is tape]
    weighed = list(zip(shares(ways), ways, strict=True))
    if math.fsum(share for share, way in weighed if way.fair == 0) > SLIP:
        return None
    told = [(share, way.told) for share, way in weighed]
    a, b = (math.fsum(share * one[n] for share, one in told) for n in (0, 1))
    oo = math.fsum(share * (one.oo + (one.o - a) ** 2) for share, one in told)
    os = math.fsum(share * (one.os + (one.o - a) * (one.s - b)) for share, one in told)
    ss = math.fsum(share * (one.ss + (one.s - b) ** 2) for share, one in told)
    shared: dict[ErrorSource, tuple[float, float]] = {}
    for share, way in weighed:
        for source, moves in way.shared.items():
            was = shared.get(source, (0.0, 0.0))
            shared[source] = was[0] + share * moves[0], was[1] + share * moves[1]
    return _Belief(a, b, oo, os, ss, shared)


def _uncertain(x: _Belief, angle: str, known: Presumed) -> tuple[UncertainValue, UncertainValue]:
    """The pair as values with sources: two of their own that give the covariance, and the instruments' limits."""
    dof, slope_u = known.setting.dof, math.sqrt(max(x.ss, 0.0))
    tilt = ErrorSource(f"stop:{angle}{SLOPE_KEY}", LABEL, slope_u, dof, pool="stop")
    share = x.os / slope_u**2 if slope_u > 0.0 else 0.0
    height = ErrorSource(f"stop:{angle}:height", LABEL, x.least, dof, pool="stop")
    limits = [{source: c[n] for source, c in x.shared.items() if c[n] != 0.0} for n in (0, 1)]
    return (
        UncertainValue(x.offset, {height: 1.0, tilt: share} | limits[0]),
        UncertainValue(x.slope, {tilt: 1.0} | limits[1]),
    )
