"""What changed at the saw, what is doubtful after it, what is still good, and how much doubt it adds as a start.

The table is common practice of the trade. The sizes of doubt are standard deviations in the feature's unit, common
practice as well: they say how far the thing has usually gone, and stand until the shop's own findings show better.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from trued.errors import InputRefused
from trued.standing.feature import Named
from trued.units.nearest import nearest

Angles = Literal["all", "square", "turned"]
Grows = Literal["", "secant", "tangent"]
_UNTOLD = math.radians(45.0)  # an angle that was not told is taken for the one at which most is lost
_MOST = math.radians(80.0)  # no detent is farther from square; the tangent of a right angle has no size


@dataclass(frozen=True, slots=True)
class AddedUncertainty:
    """What becomes doubtful: a bare feature, by how much, and at which angles (`turned`: all but the square cut).

    grows: with the fence angle: as 1 / cos (what the blade crosses the fence by) or as tan (what a facing that
           is thicker shifts). `size` is then that of the square cut, or at 45°.
    """

    feature: str
    size: float
    angles: Angles = "all"
    grows: Grows = ""

    def at(self, name: Named) -> float:
        """Its size for a feature at that angle."""
        degrees = name.turned.degrees if self.grows else 0.0
        angle = _UNTOLD if degrees is None else min(math.radians(degrees), _MOST)
        return self.size * {"": 1.0, "secant": 1.0 / math.cos(angle), "tangent": math.tan(angle)}[self.grows]

    def meets(self, name: Named) -> bool:
        """Whether it means that feature at that angle."""
        if name.feature != self.feature:
            return False
        square = name.angle in ("", "0")
        return self.angles == "all" or square is (self.angles == "square")


@dataclass(frozen=True, slots=True)
class Event:
    """One row. `about`: the kind of thing that its subject is; a `fixture` or `wing` named narrows what is stale."""

    kind: str
    text: str
    about: Literal["saw", "blade", "fixture", "wing", "instrument", "shop"]
    stale: tuple[AddedUncertainty, ...]
    stale_text: str
    good_text: str
    caution: str = ""

    def doubt_of(self, name: Named, subject: str = "") -> float | None:
        """The doubt that it adds to a feature; None when the feature is as good as before."""
        if subject and self.about in ("fixture", "wing", "instrument") and name.thing not in ("", subject):
            return None
        return next((doubt.at(name) for doubt in self.stale if doubt.meets(name)), None)


_MIL = 0.0254
_MRAD = 1e-3

_NEW_BLADE = (
    AddedUncertainty("zero-clearance", 10 * _MIL),
    AddedUncertainty("sight-line", 10 * _MIL, grows="secant"),
    AddedUncertainty("knife", 5 * _MIL),
    AddedUncertainty("knife-gap", 40 * _MIL),
    AddedUncertainty("knife-height", 40 * _MIL),
)
_LIKE_KERF = (AddedUncertainty("knife-over-plate", 4 * _MIL), AddedUncertainty("knife-under-kerf", 4 * _MIL))
_OTHER_KERF = (AddedUncertainty("knife-over-plate", 20 * _MIL), AddedUncertainty("knife-under-kerf", 20 * _MIL))
_INSERT = tuple(
    AddedUncertainty(f"insert-{edge}-{side}", 5 * _MIL) for edge in ("operator", "far") for side in ("keeper", "offcut")
)
_KNIFE = "The knife must be thicker than the blade's plate and thinner than its kerf: check it before any cut."

_TABLE = (
    Event(
        "saw-carried",
        "Saw moved, dropped or re-clamped",
        "saw",
        (
            AddedUncertainty("blade-parallel", 0.5 * _MRAD),
            AddedUncertainty("rip-toe", 3 * _MIL),
            AddedUncertainty("bevel", 1 * _MRAD),
            AddedUncertainty("wing-step", 15 * _MIL),
            AddedUncertainty("knife", 5 * _MIL),
            AddedUncertainty("fence-angle", 0.15 * _MRAD),
        ),
        "blade-to-slot angle, rip fence toe, tilt stops, wing, knife, fence of the sled (one flip test shows it)",
        "fence straightness, rule, caliper",
        "Check the knife and the rip fence toe before any rip.",
    ),
    Event(
        "blade-same-kerf",
        "New blade, same kerf",
        "blade",
        (
            AddedUncertainty("kerf", 4 * _MIL),
            AddedUncertainty("stop-offset", 6 * _MIL, grows="secant"),
            *_NEW_BLADE,
            *_LIKE_KERF,
        ),
        "kerf, scale zero at every angle, sight line, slot of the insert, knife to kerf and teeth, height",
        "fence angle, detents",
        _KNIFE,
    ),
    Event(
        "blade-thinner",
        "New blade, thinner kerf",
        "blade",
        (
            AddedUncertainty("kerf", 20 * _MIL),
            AddedUncertainty("stop-offset", 26 * _MIL, grows="secant"),
            *_NEW_BLADE,
            *_OTHER_KERF,
        ),
        "kerf, scale zero at every angle, sight line, knife to kerf and teeth, height; the slots in facing, insert and "
        "platform are wider than the new kerf",
        "fence angle, detents",
        f"Stop: this can be dangerous, the knife may now be thicker than the kerf. {_KNIFE}",
    ),
    Event(
        "blade-thicker",
        "New blade, thicker kerf",
        "blade",
        (
            AddedUncertainty("kerf", 20 * _MIL),
            AddedUncertainty("stop-offset", 26 * _MIL, grows="secant"),
            *_NEW_BLADE,
            *_OTHER_KERF,
        ),
        "kerf, scale zero at every angle, sight line, knife to kerf and teeth, height; facing, insert and platform are "
        "cut again by the first pass",
        "fence angle, detents",
        f"{_KNIFE} Turn the blade by hand past all metal that must never be cut.",
    ),
    Event(
        "blade-realigned",
        "Blade realigned to the slot",
        "saw",
        (
            AddedUncertainty("blade-parallel", 1 * _MRAD),
            AddedUncertainty("bevel", 1 * _MRAD),
            AddedUncertainty("knife", 10 * _MIL),
            *_INSERT,
            AddedUncertainty("zero-clearance", 15 * _MIL),
            AddedUncertainty("stop-offset", 15 * _MIL, grows="secant"),
            AddedUncertainty("sight-line", 15 * _MIL, grows="secant"),
            AddedUncertainty("rip-toe", 4 * _MIL),
            AddedUncertainty("rip-offset", 15 * _MIL),
        ),
        "tilt stops, knife, insert, kerf in platform and facing, scale zero, sight line, rip fence to blade",
        "fence angle to the slot",
        "Check the knife and the rip fence toe before any rip.",
    ),
    Event(
        "tilt-used",
        "Blade tilted and brought back",
        "saw",
        (AddedUncertainty("bevel", 1 * _MRAD, "square"),),
        "90° bevel stop (dust under the stop)",
        "all else",
    ),
    Event(
        "facing-renewed",
        "New fence facing",
        "fixture",
        (
            AddedUncertainty("fence-angle", 0.25 * _MRAD),
            AddedUncertainty("fence-straight", 4 * _MIL),
            AddedUncertainty("zero-clearance", 20 * _MIL),
            AddedUncertainty("stop-offset", 1 / 16 * 25.4, "turned", "tangent"),
            AddedUncertainty("detent-angle", 0.25 * _MRAD),
            AddedUncertainty("sight-line", 1 / 16 * 25.4, "turned", "tangent"),
        ),
        "fence angle (a facing is never quite even), straightness, kerf in the facing, scale zero at every "
        "angle but the square cut, height where the stop touches",
        "slot, bar",
        "Fasteners stay out of the blade's path at every angle used: turn the blade by hand.",
    ),
    Event(
        "bar-adjusted",
        "Bar adjusted",
        "fixture",
        (
            AddedUncertainty("fence-angle", 0.4 * _MRAD),
            AddedUncertainty("bar-play", 4 * _MIL),
            AddedUncertainty("bar-swing", 0.3 * _MRAD),
            AddedUncertainty("stop-offset", 8 * _MIL),
            AddedUncertainty("sight-line", 8 * _MIL),
            AddedUncertainty("zero-clearance", 8 * _MIL),
            AddedUncertainty("detent-angle", 0.4 * _MRAD),
        ),
        "fence angle and of every detent, play, scale zero, sight line, kerf in the platform",
        "fence straightness",
    ),
    Event(
        "screw-touched",
        "Fence screw or zero stop touched",
        "fixture",
        (
            AddedUncertainty("fence-angle", 1 * _MRAD),
            AddedUncertainty("detent-angle", 1 * _MRAD),
            AddedUncertainty("stop-offset", 20 * _MIL, "turned"),
        ),
        "fence angle and of its detents (the screw may stand on the fence's arm), "
        "scale zero at an angle; what was cut today and must match is two lots, before and after",
        "kerf",
    ),
    Event(
        "detent-loosened",
        "Detent plate loosened",
        "fixture",
        (
            AddedUncertainty("fence-angle", 1 * _MRAD),
            AddedUncertainty("detent-angle", 1 * _MRAD),
            AddedUncertainty("detent-repeat", 0.3 * _MRAD),
            AddedUncertainty("detent-backlash", 0.3 * _MRAD),
            AddedUncertainty("stop-offset", 20 * _MIL, "turned"),
        ),
        "all detents, scale zero at each angle",
        "fence straightness",
    ),
    Event(
        "scale-moved",
        "Stop scale or cursor moved",
        "fixture",
        (AddedUncertainty("stop-offset", 40 * _MIL),),
        "lengths only",
        "angles",
    ),
    Event(
        "wing-touched",
        "Wing bolts touched, or new season",
        "wing",
        (AddedUncertainty("wing-step", 15 * _MIL),),
        "level of the wing",
        "all else",
    ),
    Event(
        "sled-stored",
        "Sled stored, dropped or leaned",
        "fixture",
        (
            AddedUncertainty("platform-flat", 10 * _MIL),
            AddedUncertainty("fence-angle", 0.3 * _MRAD),
            AddedUncertainty("bar-play", 4 * _MIL),
            AddedUncertainty("bar-swing", 0.3 * _MRAD),
        ),
        "sled base flatness, fence angle, bar play",
        "kerf, scale of the stop",
    ),
    Event(
        "humidity-swing",
        "Humidity changed 20 points or more",
        "shop",
        (
            AddedUncertainty("bar-play", 5 * _MIL),
            AddedUncertainty("bar-swing", 0.4 * _MRAD),
            AddedUncertainty("platform-flat", 8 * _MIL),
        ),
        "play of a wooden bar, platform of board or plywood, the stock",
        "metal parts",
    ),
    Event(
        "caliper-dropped",
        "Caliper dropped, or new battery",
        "instrument",
        (AddedUncertainty("caliper-zero", 2 * _MIL),),
        "zero and check of the caliper, nothing else; but every reading taken with it since",
        "all that it did not read",
    ),
)

EVENTS: dict[str, Event] = {event.kind: event for event in _TABLE}
"""The fifteen rows, in the order in which a person is asked."""


def event_of(kind: str) -> Event:
    """The event of that kind; InputRefused names the nearest when there is none."""
    if kind not in EVENTS:
        raise InputRefused.of("event", kind, f"No event is called {kind!r}. {nearest(kind, tuple(EVENTS))}")
    return EVENTS[kind]
