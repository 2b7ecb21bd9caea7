"""What a check declares of itself: asks, facts, steps, cautions, arithmetic, moves, blunders, drawing, example; and
what was taken in one run of it.

Web form, command line, stored rows and printed sheet all come from this declaration. A check sees nothing of a run but
`RunInput`. Readings of one instrument share its limit of error and its scatter.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Literal

from trued.drawing.shapes import Drawing
from trued.measure.decision import ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.measure.instrument import Instrument
from trued.procedure.asks import Kind, ReadingSpec, SetupFact, Step
from trued.standing.declared import Feature
from trued.standing.stop_model import Cuts


class Severity(StrEnum):
    """What a warning does: nothing is worked out; someone can get hurt; shown but not proven and no move; said only.

    What can hurt someone is said before all else and always counts: it may put something out of use, and proves nothing
    in.
    """

    REFUSE = "refuse"
    DANGER = "danger"
    DOUBT = "doubt"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class IntermediatePrecision:
    """How far the whole procedure repeats from run to run before this shop has shown its own (unit of the feature)."""

    label: str
    start: EstimatedSd
    source: str


@dataclass(frozen=True, slots=True)
class FeatureResult:
    """One feature as found by a check; `limits` None means there is nothing to decide. Unit: `rad`, `mm`, `mm/mm`.

    `spread` holds where the feature is itself a scatter, as how well a stop repeats: its interval and its chance
    then follow chi-square, and `value` is the same to first order.
    """

    feature: str
    unit: str
    value: UncertainValue
    limits: ToleranceLimits | None = None
    safety: bool = False
    spread: EstimatedSd | None = None


@dataclass(frozen=True, slots=True)
class Move:
    """What to do about one feature. `amount_mm` is at `where`; None while a fact needed for it is not known."""

    feature: str
    text: str
    where: str
    direction: str
    amount_mm: float | None


@dataclass(frozen=True, slots=True)
class Flag:
    """Something wrong, or worth saying, that the readings themselves show.

    features: which of the check's features a danger is about; () is all of them.
    """

    code: str
    act: Severity
    text: str
    features: tuple[str, ...] = ()

    def is_about(self, feature: str) -> bool:
        """Whether it is about that bare feature."""
        return not self.features or feature in self.features


@dataclass(frozen=True, slots=True)
class Example:
    """A worked example as typed on the command line, what it gives (feature, value), and where it comes from.

    facts: of that run alone, by name, as its angle.
    """

    given: tuple[str, ...]
    gives: tuple[tuple[str, float], ...]
    source: str
    facts: tuple[tuple[str, str], ...] = ()

    @property
    def words(self) -> tuple[str, ...]:
        """All of it as it is typed behind the name of the check."""
        return *self.given, *(word for name, text in self.facts for word in (f"--{name}", text))


@dataclass(frozen=True, slots=True)
class Check:
    """A measuring procedure. `version` rises when its arithmetic changes; `ground` names what must be true before.

    features: those of which it is the check, declared here and nowhere else; also: those of another check that it finds
             too.
    dangers: what can hurt someone, each decided from those readings that it needs, whatever else is missing; None while
             those are not there. It is said first, also where the run is refused.
    apart:   what to look at when two runs with nothing touched between differ by more than they can: the method.
    made_on: what of the saw its steps cut with: the `sled`, the rip `fence`, the `saw` by any way, or a `joint` that
             does not go through the wood; "" where nothing is cut. It is not ordered where that must not be used.
    ends:    two readings that say the contrary when they are changed over.
    parts:   of a check that cuts against the stop, the parts of each setting: what they say of its scale counts
             together with all others.
    """

    id: str
    version: int
    title: str
    purpose: str
    minutes: float
    features: tuple[Feature, ...]
    at_hand: tuple[str, ...]
    cautions: tuple[str, ...]
    asks: tuple[ReadingSpec, ...]
    steps: tuple[Step, ...]
    evaluate: Callable[[RunInput], tuple[FeatureResult, ...]]
    moves: Callable[[RunInput, tuple[FeatureResult, ...]], tuple[Move, ...]]
    blunders: tuple[Callable[[RunInput], Flag | None], ...]
    draw: Callable[[RunInput, tuple[FeatureResult, ...]], Drawing]
    example: Example
    sources: tuple[str, ...]
    facts: tuple[SetupFact, ...] = ()
    ground: tuple[str, ...] = ()
    between_runs: IntermediatePrecision | None = None
    dangers: tuple[Callable[[RunInput], Flag | None], ...] = ()
    apart: str = "Was the same thing read at the same places, in the same way?"
    made_on: Literal["", "sled", "fence", "saw", "joint"] = ""
    ends: tuple[str, str] | None = None
    parts: Callable[[RunInput], tuple[Cuts, ...]] | None = None
    also: tuple[Feature, ...] = ()

    def __post_init__(self) -> None:
        names = [ask.name for ask in self.asks]
        twice = [name for name, n in Counter(names).items() if n > 1]
        served = {name for step in self.steps for name in step.asks}
        if twice:
            raise ValueError(f"{self.id}: asks declared twice: {', '.join(twice)}")
        if missing := set(names) - served:
            raise ValueError(f"{self.id}: no step serves {', '.join(sorted(missing))}")
        if unknown := served - set(names):
            raise ValueError(f"{self.id}: a step serves unknown asks {', '.join(sorted(unknown))}")
        if not (self.found and self.cautions and self.sources and self.at_hand):
            raise ValueError(f"{self.id}: features, cautions, sources and what to have at hand must be given")

    @property
    def found(self) -> tuple[Feature, ...]:
        """Every feature that it finds, the first the one that it is for."""
        return *self.features, *self.also

    @property
    def names(self) -> tuple[str, ...]:
        """The bare names of what it finds."""
        return tuple(feature.name for feature in self.found)

    def feature(self, name: str) -> Feature:
        """What it finds of that bare name; KeyError otherwise."""
        return next((feature for feature in self.found if feature.name == name), None) or _no_feature(self.id, name)

    def ask(self, name: str) -> ReadingSpec:
        """The ask of that name; KeyError otherwise."""
        return next((ask for ask in self.asks if ask.name == name), None) or _missing(self.id, name)


def _missing(check: str, name: str) -> ReadingSpec:
    raise KeyError(f"{check} has no ask {name!r}")


def _no_feature(check: str, name: str) -> Feature:
    raise KeyError(f"{check} finds no feature {name!r}")


@dataclass(frozen=True, slots=True)
class Reading:
    """One number as typed. `value` is in the kind's unit (mm, rad, ...); `choice` holds the word of a choice."""

    name: str
    station: str
    typed: str
    kind: Kind
    value: float
    choice: str = ""
    instrument: Instrument | None = None
    named: bool = True
    exact_mm: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class RunInput:
    """The readings and facts of one run of `check`.

    `scatter` is what is known of the scatter between runs here (the check's own start when None). `limits` replace
    the check's default tolerances by feature. `unit` is the person's unit, for words only.
    """

    check: Check
    readings: tuple[Reading, ...]
    facts: Mapping[str, str | float] = field(default_factory=dict)
    unit: str = "in"
    scatter: EstimatedSd | None = None
    limits: Mapping[str, ToleranceLimits] = field(default_factory=dict)
    _repeat: dict[Instrument, EstimatedSd] = field(default_factory=dict, init=False, compare=False, repr=False)

    def of(self, name: str, station: str | None = None) -> tuple[Reading, ...]:
        """Readings of one ask in the order typed, at one station or at all."""
        return tuple(r for r in self.readings if r.name == name and station in (None, r.station))

    def all(self, name: str, station: str | None = None) -> tuple[float, ...]:
        """The values of one ask in the order typed."""
        return tuple(r.value for r in self.of(name, station))

    def has(self, name: str, station: str | None = None) -> bool:
        """Whether there is at least one reading of that ask."""
        return bool(self.of(name, station))

    def stations(self, name: str) -> tuple[str, ...]:
        """Stations of one ask, each once, in the order typed."""
        return tuple(dict.fromkeys(r.station for r in self.of(name)))

    def choice(self, name: str) -> str:
        """The word given for an ask that offers choices; "" when it was left out."""
        given = self.of(name)
        return given[0].choice if given else ""

    def mean(self, name: str, station: str | None = None) -> UncertainValue:
        """Mean of the readings of one ask (at one station) with its own and its instrument's error."""
        readings = self.of(name, station)
        if not readings:
            raise KeyError(f"no reading {name!r} at {station!r}")
        what = self.check.ask(name).instrument
        instrument = readings[0].instrument
        if instrument is None:
            return UncertainValue(sum(r.value for r in readings) / len(readings))
        values = [r.value for r in readings]
        return instrument.read(f"{name}@{station or ''}", instrument.kind or what, values, self.repeat(instrument))

    def single(self, reading: Reading, index: int) -> UncertainValue:
        """One reading by itself, with its own and its instrument's error; `index` tells it from its neighbours."""
        if reading.instrument is None:
            return UncertainValue(reading.value)
        key = f"{reading.name}@{reading.station}#{index}"
        return reading.instrument.read(key, reading.instrument.kind, [reading.value], self.repeat(reading.instrument))

    def repeat(self, instrument: Instrument) -> EstimatedSd:
        """Scatter of one instrument, sharpened by every repeat of one and the same thing in this run."""
        found = self._repeat.get(instrument)  # asked for by every reading, and the same each time
        if found is None:
            found = self._repeat[instrument] = instrument.scatter(self._repeats(instrument))
        return found

    def worst_repeat(self, name: str) -> float:
        """Largest range (largest - smallest) among repeats at one station of an ask; 0 with no repeats."""
        ranges = [max(values) - min(values) for s in self.stations(name) if (values := self.all(name, s))]
        return max(ranges, default=0.0)

    def between_runs(self) -> UncertainValue:
        """Nought, uncertain by the scatter of this whole procedure from run to run (unit of the feature)."""
        declared = self.check.between_runs
        if declared is None:
            return UncertainValue(0.0)
        scatter = self.scatter or declared.start
        return UncertainValue.of(0.0, ErrorSource(f"run:{self.check.id}", declared.label, scatter.s, scatter.dof))

    @property
    def scatter_seen(self) -> bool:
        """Whether this shop has shown the scatter between runs, or the check has none to show."""
        return self.check.between_runs is None or (self.scatter is not None and self.scatter.shown)

    def tolerance(self, feature: str, default: ToleranceLimits | None = None) -> ToleranceLimits:
        """The tolerance asked for, else `default` (where this run sets it), else what the check declares."""
        return self.limits.get(feature) or default or self.check.feature(feature).allowed

    def word(self, fact: str) -> str:
        """A fact that is a choice; "" when it is not known."""
        value = self.facts.get(fact, "")
        return value if isinstance(value, str) else ""

    def number(self, fact: str) -> float | None:
        """A fact that is a number (mm); None when it is not known."""
        value = self.facts.get(fact)
        return value if isinstance(value, float) else None

    def _repeats(self, instrument: Instrument) -> Iterator[tuple[float, ...]]:
        for ask in self.check.asks:
            if not ask.one_thing:
                continue
            for station in self.stations(ask.name):
                values = tuple(r.value for r in self.of(ask.name, station) if r.instrument == instrument)
                if len(values) > 1 and ask.kind in (Kind.LENGTH, Kind.GAP, Kind.ANGLE):
                    yield values
