"""What a check declares of each feature that it finds: a thing that can be out.

A full name is THING.FEATURE[@ANGLE[SIDE]], as `sled.fence-angle@0`, `sled.detent-angle@45closed` or `blade.kerf`:
where the angle of the fence or the tilt of the blade matters, each is a feature of its own.

A positive move is the one that lowers the feature's value, and its word is the first of the two `directions`: opening
lowers a tight corner, "shorter" lowers the offset of a stop whose parts come out long.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from trued.equipment.fence_swing import Turned, turned_of
from trued.errors import InputRefused
from trued.measure.decision import ToleranceLimits

FeatureUnit = Literal["rad", "mm", "mm/mm", "%"]
Angles = Literal["", "square", "swing", "tilt"]
Owner = Literal["fixture", "saw", "blade", "wing", "caliper", "tape", "work"]
"""Which thing of a shop it belongs to; `work`: one board, joint or assembly, so it has no standing."""

_UNTOLD = math.radians(45.0)  # an angle that was not told is taken for the one at which most is lost
_MOST = math.radians(80.0)  # no detent is farther from square; the tangent of a right angle has no size


@dataclass(frozen=True, slots=True)
class Named:
    """A full feature name in its parts; `angle` is "" where the feature is the same at every angle, and else with its
    side (`45closed`)."""

    thing: str
    feature: str
    angle: str

    @property
    def turned(self) -> Turned:
        """The angle as degrees and side; of a feature that is the same at every angle the square cut. Older books hold
        whatever was typed for an angle: what is none was not told."""
        try:
            return turned_of(self.angle or "0")
        except InputRefused:
            return Turned(None)


@lru_cache(maxsize=1024)
def named(full: str) -> Named:
    """The parts of a full name; a bare feature has no thing."""
    rest, _, angle = full.partition("@")
    thing, dot, feature = rest.rpartition(".")
    return Named(thing if dot else "", feature, angle)


@dataclass(frozen=True, slots=True)
class Actuator:
    """How well a move arrives before this shop has shown it: standard deviations, common practice.

    settling: how far the thing lands from where it was brought, in the feature's unit, when it is locked again.
    finest:   the smallest move a hand can make where no radius or thread is known, in the feature's unit.
    minutes:  to loosen it, bring it to its place and lock it.
    """

    settling: float
    finest: float
    minutes: float = 5.0


@dataclass(frozen=True, slots=True)
class AddedUncertainty:
    """How far the feature has usually gone after an event: a standard deviation in its unit, and at which angles
    (`turned`: all but the square cut). It stands until the shop's own findings show better. Common practice.

    grows: with the angle of the fence: as 1 / cos (what the blade crosses the fence by) or as tan (what a facing that
           is thicker shifts). `size` is then that of the square cut, or at 45°.
    """

    event: str
    size: float
    angles: Literal["all", "square", "turned"] = "all"
    grows: Literal["", "secant", "tangent"] = ""

    def at(self, name: Named) -> float | None:
        """Its size for the feature at that angle; None at an angle that it does not touch."""
        if self.angles != "all" and (name.angle in ("", "0")) is not (self.angles == "square"):
            return None
        degrees = name.turned.degrees if self.grows else 0.0
        angle = _UNTOLD if degrees is None else min(math.radians(degrees), _MOST)
        return self.size * {"": 1.0, "secant": 1.0 / math.cos(angle), "tangent": math.tan(angle)}[self.grows]


def per_quarter(size: float) -> float:
    """How much a day adds where three months add `size`: a drift grows with the root of the days."""
    return size / math.sqrt(90.0)


@dataclass(frozen=True, slots=True)
class Feature:
    """One thing that can be out. `limits` in its unit are common practice and stand until the person says otherwise.

    directions: the ids of its two ways to move, the one that lowers its value first; orders: the words of each.
    sides:  what a value above nought means, and one below; () for a number that has one way only.
    owner:  the thing of the shop that it belongs to; `fixture` is the one in use.
    drift:  the standard deviation that one day adds by itself; 0 is looked at again after an event alone.
    doubts: what each event that touches it adds.
    angles: at which angles it is one of its own: of the `square` cut alone (`@0`), at each angle and side to which the
            fence can `swing` (`@0`, `@45closed`), or at each `tilt` of the blade (`@0`, `@45`).
    spread: whether it is itself a scatter, as how well a stop repeats; its chance then follows chi-square.
    led_by: another feature of the same adjuster: what is to be done to it is ordered there, and only there.
    turn:   its place among those that are equally urgent; the small one comes first.
    check, minutes: the check that is ordered to find it, and how long that takes; the catalogue fills them in.
    """

    name: str
    unit: FeatureUnit
    text: str
    limits: ToleranceLimits | None = None
    directions: tuple[str, str] | None = None
    orders: tuple[str, str] | None = None
    sides: tuple[str, str] | None = None
    actuator: Actuator | None = None
    owner: Owner = "fixture"
    drift: float = 0.0
    doubts: tuple[AddedUncertainty, ...] = ()
    safety: bool = False
    angles: Angles = ""
    spread: bool = False
    led_by: str = ""
    turn: int = 1000
    check: str = ""
    minutes: float = 10.0

    def __post_init__(self) -> None:
        if self.directions is None and (self.orders or self.actuator):
            raise ValueError(f"{self.name}: orders and an actuator need the two directions")

    @property
    def adjuster(self) -> str:
        """The feature by which the thing is adjusted that it is read from."""
        return self.led_by or self.name

    @property
    def by_angle(self) -> bool:
        """Whether its full name ends in an angle."""
        return bool(self.angles)

    @property
    def adjustable(self) -> bool:
        """Whether there is something to turn."""
        return self.actuator is not None

    @property
    def allowed(self) -> ToleranceLimits:
        """Its limits; ValueError for a feature that has none to state."""
        if self.limits is None:
            raise ValueError(f"{self.name} has no limits of its own")
        return self.limits

    def doubt_after(self, event: str, name: Named) -> float | None:
        """The doubt that an event adds to it at that angle; None when it is as good as before."""
        sizes = (doubt.at(name) for doubt in self.doubts if doubt.event == event)
        return next((size for size in sizes if size is not None), None)
