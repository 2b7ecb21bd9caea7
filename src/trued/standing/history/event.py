"""What can change at a saw, what is doubtful after it and what is still good, in words; common practice of the trade.

How much doubt an event adds is declared with each feature (`Feature.doubts`), so that a new check's features take part.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from trued.errors import InputRefused
from trued.standing.feature import Named, find_feature
from trued.units.nearest import nearest


@dataclass(frozen=True, slots=True)
class Event:
    """One row. `about`: the kind of thing that its subject is; a `fixture` or `wing` named narrows what is stale."""

    kind: str
    text: str
    about: Literal["saw", "blade", "fixture", "wing", "instrument", "shop"]
    stale_text: str
    good_text: str
    caution: str = ""

    def doubt_of(self, name: Named, subject: str = "") -> float | None:
        """The doubt that it adds to a feature; None when the feature is as good as before."""
        if subject and self.about in ("fixture", "wing", "instrument") and name.thing not in ("", subject):
            return None
        known = find_feature(f"{name.feature}@{name.angle}" if name.angle else name.feature)
        return None if known is None else known.doubt_after(self.kind, name)


_KNIFE = "The knife must be thicker than the blade's plate and thinner than its kerf: check it before any cut."

_TABLE = (
    Event(
        "saw-carried",
        "Saw moved, dropped or re-clamped",
        "saw",
        "blade-to-slot angle, rip fence toe, tilt stops, wing, knife, fence of the sled (one flip test shows it)",
        "fence straightness, rule, caliper",
        "Check the knife and the rip fence toe before any rip.",
    ),
    Event(
        "blade-same-kerf",
        "New blade, same kerf",
        "blade",
        "kerf, scale zero at every angle, sight line, slot of the insert, knife to kerf and teeth, height",
        "fence angle, detents",
        _KNIFE,
    ),
    Event(
        "blade-thinner",
        "New blade, thinner kerf",
        "blade",
        "kerf, scale zero at every angle, sight line, knife to kerf and teeth, height; the slots in facing, insert and "
        "platform are wider than the new kerf",
        "fence angle, detents",
        f"Stop: this can be dangerous, the knife may now be thicker than the kerf. {_KNIFE}",
    ),
    Event(
        "blade-thicker",
        "New blade, thicker kerf",
        "blade",
        "kerf, scale zero at every angle, sight line, knife to kerf and teeth, height; facing, insert and platform are "
        "cut again by the first pass",
        "fence angle, detents",
        f"{_KNIFE} Turn the blade by hand past all metal that must never be cut.",
    ),
    Event(
        "blade-realigned",
        "Blade realigned to the slot",
        "saw",
        "tilt stops, knife, insert, kerf in platform and facing, scale zero, sight line, rip fence to blade",
        "fence angle to the slot",
        "Check the knife and the rip fence toe before any rip.",
    ),
    Event(
        "tilt-used",
        "Blade tilted and brought back",
        "saw",
        "90° bevel stop (dust under the stop)",
        "all else",
    ),
    Event(
        "facing-renewed",
        "New fence facing",
        "fixture",
        "fence angle (a facing is never quite even), straightness, kerf in the facing, scale zero at every "
        "angle but the square cut, height where the stop touches",
        "slot, bar",
        "Fasteners stay out of the blade's path at every angle used: turn the blade by hand.",
    ),
    Event(
        "bar-adjusted",
        "Bar adjusted",
        "fixture",
        "fence angle and of every detent, play, scale zero, sight line, kerf in the platform",
        "fence straightness",
    ),
    Event(
        "screw-touched",
        "Fence screw or zero stop touched",
        "fixture",
        "fence angle and of its detents (the screw may stand on the fence's arm), "
        "scale zero at an angle; what was cut today and must match is two lots, before and after",
        "kerf",
    ),
    Event(
        "detent-loosened",
        "Detent plate loosened",
        "fixture",
        "all detents, scale zero at each angle",
        "fence straightness",
    ),
    Event(
        "scale-moved",
        "Stop scale or cursor moved",
        "fixture",
        "lengths only",
        "angles",
    ),
    Event(
        "wing-touched",
        "Wing bolts touched, or new season",
        "wing",
        "level of the wing",
        "all else",
    ),
    Event(
        "sled-stored",
        "Sled stored, dropped or leaned",
        "fixture",
        "sled base flatness, fence angle, bar play",
        "kerf, scale of the stop",
    ),
    Event(
        "humidity-swing",
        "Humidity changed 20 points or more",
        "shop",
        "play of a wooden bar, platform of board or plywood, the stock",
        "metal parts",
    ),
    Event(
        "caliper-dropped",
        "Caliper dropped, or new battery",
        "instrument",
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
