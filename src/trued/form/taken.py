"""What was taken: the readings of one run with their instruments, and the facts of the fixture.

A check sees nothing else. Readings of one instrument share its limit of error and its scatter.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from trued.form.declare import Check, Kind
from trued.measure.decision import Limits
from trued.measure.estimate import Source, Uncertain
from trued.measure.instrument import Instrument
from trued.measure.scatter import Scatter


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
class Taken:
    """The readings and facts of one run of `check`.

    `scatter` is what is known of the scatter between runs here (the check's own start when None). `limits` replace
    the check's default tolerances by feature. `unit` is the person's unit, for words only.
    """

    check: Check
    readings: tuple[Reading, ...]
    facts: Mapping[str, str | float] = field(default_factory=dict)
    unit: str = "in"
    scatter: Scatter | None = None
    limits: Mapping[str, Limits] = field(default_factory=dict)
    _repeat: dict[Instrument, Scatter] = field(default_factory=dict, init=False, compare=False, repr=False)

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

    def mean(self, name: str, station: str | None = None) -> Uncertain:
        """Mean of the readings of one ask (at one station) with its own and its instrument's error."""
        readings = self.of(name, station)
        if not readings:
            raise KeyError(f"no reading {name!r} at {station!r}")
        what = self.check.ask(name).instrument
        instrument = readings[0].instrument
        if instrument is None:
            return Uncertain(sum(r.value for r in readings) / len(readings))
        values = [r.value for r in readings]
        return instrument.read(f"{name}@{station or ''}", instrument.kind or what, values, self.repeat(instrument))

    def single(self, reading: Reading, index: int) -> Uncertain:
        """One reading by itself, with its own and its instrument's error; `index` tells it from its neighbours."""
        if reading.instrument is None:
            return Uncertain(reading.value)
        key = f"{reading.name}@{reading.station}#{index}"
        return reading.instrument.read(key, reading.instrument.kind, [reading.value], self.repeat(reading.instrument))

    def repeat(self, instrument: Instrument) -> Scatter:
        """Scatter of one instrument, sharpened by every repeat of one and the same thing in this run."""
        found = self._repeat.get(instrument)  # asked for by every reading, and the same each time
        if found is None:
            found = self._repeat[instrument] = instrument.scatter(self._repeats(instrument))
        return found

    def worst_repeat(self, name: str) -> float:
        """Largest range (largest - smallest) among repeats at one station of an ask; 0 with no repeats."""
        ranges = [max(values) - min(values) for s in self.stations(name) if (values := self.all(name, s))]
        return max(ranges, default=0.0)

    def between_runs(self) -> Uncertain:
        """Nought, uncertain by the scatter of this whole procedure from run to run (unit of the feature)."""
        declared = self.check.between_runs
        if declared is None:
            return Uncertain(0.0)
        scatter = self.scatter or declared.start
        return Uncertain.of(0.0, Source(f"run:{self.check.id}", declared.label, scatter.s, scatter.dof))

    @property
    def scatter_seen(self) -> bool:
        """Whether this shop has shown the scatter between runs, or the check has none to show."""
        return self.check.between_runs is None or (self.scatter is not None and self.scatter.shown)

    def tolerance(self, feature: str, default: Limits) -> Limits:
        """The tolerance asked for, else the check's own."""
        return self.limits.get(feature, default)

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
