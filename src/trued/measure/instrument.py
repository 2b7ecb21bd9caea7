"""Instruments: how finely one reads, how far it may be wrong, how well it repeats.

Limit of error: one error, evenly spread within +-limit and the same for every reading of that instrument in a
run (GUM 4.3.7), so it cancels in a difference and stays in a length. Each reading's own scatter comes from
repeats and is never less than resolution / sqrt(12).
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, Shape, UncertainValue

INCH_MM = 25.4


@dataclass(frozen=True, slots=True)
class Instrument:
    """One measuring instrument. Lengths in mm, except for kind `angle-gauge`: in rad.

    `range_mm` is the longest it can read (None: no limit known); `source` says where the figures come from.
    """

    id: str
    kind: str
    resolution: float
    limit: float
    repeat: EstimatedSd
    range_mm: float | None = None
    digital: bool = False
    source: str = "common practice"

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise ValueError(f"unknown kind of instrument {self.kind!r}; known: {', '.join(KINDS)}")
        if not (self.resolution > 0.0 and self.limit >= 0.0):
            raise ValueError(f"{self.id}: resolution must be above 0 and limit of error 0 or more")

    def scatter(self, groups: Iterable[Sequence[float]]) -> EstimatedSd:
        """What is known of this instrument's repeat after a run's repeated readings, a group for each thing read."""
        known = self.repeat
        for group in groups:
            known = known.learn_repeats(group)
        return known

    def read(
        self, key: str, what: str, readings: Sequence[float], scatter: EstimatedSd | None = None
    ) -> UncertainValue:
        """Mean of `readings` of one thing; `key` tells this reading's own error from every other's.

        The mean of n readings is n times better in variance only where the scatter is wide enough to be seen
        (s >= resolution / 2): a number that always comes out the same says nothing about what lies below it.
        """
        known = scatter or self.scatter([readings])
        s = max(known.s, self.resolution / math.sqrt(12.0))
        u = s / math.sqrt(len(readings)) if s >= self.resolution / 2.0 else s
        mean = math.fsum(readings) / len(readings)
        return UncertainValue.of(mean, *self.sources(key, what, u, known.dof))

    def reaches(self, mm: float) -> bool:
        """Whether it can read that. One of the person's own cannot beyond its end; of an assumed one none is known."""
        return self.range_mm is None or self is DEFAULTS.get(self.kind) or abs(mm) <= self.range_mm

    def beyond(self, mm: float, typed: str, other_way: str) -> str:
        """What to say of a reading beyond its end; `other_way`: what to measure instead."""
        assert self.range_mm is not None  # noqa: S101 -- what has no end is not read beyond it
        end = f"{self.id} reads to {self.range_mm:.0f} mm ({self.range_mm / INCH_MM:.3g} in) only."
        bare_inches = re.fullmatch(r"[0-9]*\.?[0-9]+", typed) and math.isclose(float(typed) * INCH_MM, mm)
        slip = f" Millimeters? Type {typed}mm." if bare_inches and float(typed) <= self.range_mm else ""
        return f"{end}{slip} {other_way}, or name one that reaches (name:tape=value)."

    def sources(self, key: str, what: str, u: float, dof: float) -> tuple[ErrorSource, ErrorSource]:
        """The two errors of one reading: its own scatter `u`, and the instrument's, shared by the whole run."""
        own = ErrorSource(f"reading:{key}", f"{what}: repeat of a reading", u, dof, pool=f"repeat:{self.id}")
        half = self.limit / math.sqrt(3.0)
        return own, ErrorSource(f"limit:{self.id}", f"{what}: limit of error", half, math.inf, Shape.RECTANGULAR)


_ARC_MINUTE = math.radians(1 / 60)
_OWN = "replace it by your instrument's own figures"
_MAKER = f"common practice; a caliper's maker says its limit (ISO 13385-1 prints none): {_OWN}"
_RULES = f"common practice, about class II of OIML R 35-1 from the hook; your own by its class: {_OWN}"
_SQUARES = f"common practice, about DIN 875 grade 2 over 100 mm of blade (from memory): {_OWN}"
_CP = f"common practice; {_OWN}"

# kind: (resolution, limit of error, repeat of a reading, longest reading or None, digital, source); mm, angle-gauge rad
_ASSUMED: dict[str, tuple[float, float, float, float | None, bool, str]] = {
    "caliper": (0.01, 0.02, 0.025, 8 * INCH_MM, True, _MAKER),
    "rule": (INCH_MM / 64, 0.3, 0.2, 24 * INCH_MM, False, _RULES),
    "tape": (INCH_MM / 32, 0.8, 0.4, 5000.0, False, _RULES),
    "feelers": (0.0005 * INCH_MM, 0.005, 0.013, 3.0, False, _CP),
    "indicator": (0.01, 0.02, 0.008, 12.0, False, _CP),
    "square": (0.02, 0.03, 0.02, None, False, _SQUARES),
    "straightedge": (0.02, 0.03, 0.02, None, False, _CP),
    "angle-gauge": (3 * _ARC_MINUTE, 6 * _ARC_MINUTE, 3 * _ARC_MINUTE, None, True, _CP),
    "gauge": (0.001, 0.005, 0.002, None, False, _CP),
    "stick": (0.01, 0.05, 0.03, None, False, _CP),
}
_ASSUMED_DOF = 10
KINDS = tuple(_ASSUMED)

DEFAULTS: dict[str, Instrument] = {
    kind: Instrument(kind, kind, resolution, limit, EstimatedSd(repeat, _ASSUMED_DOF), range_mm, digital, source)
    for kind, (resolution, limit, repeat, range_mm, digital, source) in _ASSUMED.items()
}
"""What is taken for a kind of instrument until the person has typed the figures of their own."""
