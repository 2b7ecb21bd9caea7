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


_TABLE = (
    Event(
        "saw-carried",
        "Saw moved, dropped or re-clamped",
        "saw",
        "blade to slot, rip fence toe, bevel stops, wing, knife, fence angle (flip test)",
        "fence straightness, rule, caliper",
        "Check knife and rip fence toe before any rip.",
    ),
    Event(
        "blade-same-kerf",
        "New blade, same kerf",
        "blade",
        "kerf, stop scale, cut line, insert slot, knife fit and height",
        "fence angle, detents",
        "Knife: thicker than the plate, thinner than the kerf. Check before any cut.",
    ),
    Event(
        "blade-thinner",
        "New blade, thinner kerf",
        "blade",
        "kerf, stop scale, cut line, knife fit and height; zero-clearance slots too wide",
        "fence angle, detents",
        "Don't cut. The knife may be thicker than the new kerf. "
        "It must be thicker than the plate and thinner than the kerf. Check it now.",
    ),
    Event(
        "blade-thicker",
        "New blade, thicker kerf",
        "blade",
        "kerf, stop scale, cut line, knife fit and height; first pass recuts the slots",
        "fence angle, detents",
        "Check the knife: thicker than the plate, thinner than the kerf. "
        "Turn the blade by hand: it must miss all metal.",
    ),
    Event(
        "blade-realigned",
        "Blade realigned to the slot",
        "saw",
        "bevel stops, knife, insert, slots, stop scale, cut line, rip fence",
        "fence angle to the slot",
        "Check knife and rip fence toe before any rip.",
    ),
    Event(
        "tilt-used",
        "Blade tilted and brought back",
        "saw",
        "90° bevel stop (dust behind it)",
        "everything else",
    ),
    Event(
        "facing-renewed",
        "New fence facing",
        "fixture",
        "fence angle, straightness, facing slot, stop scale at angles",
        "slot, bar",
        "Keep screws out of the blade's path at every angle. Turn it by hand.",
    ),
    Event(
        "bar-adjusted",
        "Bar adjusted",
        "fixture",
        "fence angle, detents, bar play, stop scale, cut line, base slot",
        "fence straightness",
    ),
    Event(
        "screw-touched",
        "Fence screw or zero stop touched",
        "fixture",
        "fence angle, detents, stop scale at angles; parts cut today are two batches",
        "kerf",
    ),
    Event(
        "detent-loosened",
        "Detent plate loosened",
        "fixture",
        "all detents, stop scale at each angle",
        "fence straightness",
    ),
    Event(
        "scale-moved",
        "Stop scale or cursor moved",
        "fixture",
        "lengths",
        "angles",
    ),
    Event(
        "wing-touched",
        "Wing bolts touched, or new season",
        "wing",
        "wing step",
        "everything else",
    ),
    Event(
        "sled-stored",
        "Sled stored, dropped or leaned",
        "fixture",
        "base flatness, fence angle, bar play",
        "kerf, stop scale",
    ),
    Event(
        "humidity-swing",
        "Humidity changed 20 points or more",
        "shop",
        "wooden bar play, wood sled base, stock",
        "metal parts",
    ),
    Event(
        "caliper-dropped",
        "Caliper dropped, or new battery",
        "instrument",
        "caliper zero; every reading since",
        "everything it did not read",
    ),
)

EVENTS: dict[str, Event] = {event.kind: event for event in _TABLE}
"""The fifteen rows, in the order in which a person is asked."""


def event_of(kind: str) -> Event:
    """The event of that kind; InputRefused names the nearest when there is none."""
    if kind not in EVENTS:
        raise InputRefused.of("event", kind, f"No event is called {kind!r}. {nearest(kind, tuple(EVENTS))}")
    return EVENTS[kind]
