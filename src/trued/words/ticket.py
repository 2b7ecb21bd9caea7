"""One cut in the order of doing, for terminal and page: what is set, what is made, what is taken and how it lies."""

from __future__ import annotations

import re
from dataclasses import dataclass

from trued.plan.document import PlanTicket
from trued.plan.stations.steps import size_said
from trued.units import Unit
from trued.units.number_format import quantity

MARKED = ("guided saw", "hand saw")
"""Where a line is drawn, and nothing is set."""
_SETS = {"sled": "STOP", "rip fence": "FENCE"}
_COPY = re.compile(r"(?<=[^\s@])@(?=[0-9])")
_LEAST_MM = 0.005
"""What the rounding of a scale adds is not told below that."""


@dataclass(frozen=True, slots=True)
class TicketWords:
    """What stands after the warnings.

    what: `SET STOP AT`, `LEAVE FENCE AT`, `MARK THE LINE AT`, `NOTHING TO SET`. number: alone; "" for none.
    gives: the true size, and the blade's height: `gives 12.891 in, blade 1 1/2 in up.` body: sentences, forty words or
    fewer.
    """

    what: str
    number: str
    gives: str
    body: tuple[str, ...]

    @property
    def setting(self) -> str:
        """The setting on one line."""
        number = f" {self.number}" if self.number else ""
        return f"{self.what}{number}{f', {self.gives}' if self.gives else '.'}"


def ticket_words(cut: PlanTicket, number: str, unit: Unit, *, same: bool = False) -> TicketWords:
    """`number`: what is set, as the scale reads it; same: it stands there already, and is not touched."""
    thing = _SETS.get(cut.station, "")
    what = f"{'LEAVE' if same else 'SET'} {thing} AT" if number and thing else "NOTHING TO SET"
    if number and cut.station in MARKED:
        what = "MARK THE LINE AT"
    return TicketWords(what, number, _gives(cut, unit), tuple(_body(cut)))


def copies(text: str) -> str:
    """A part's copy as a person says it: `side 1` for the command line's `side@1`."""
    return _COPY.sub(" ", text)


def _gives(cut: PlanTicket, unit: Unit) -> str:
    texts = []
    if cut.wanted_mm is not None and cut.setting is not None and not cut.waits:
        if cut.setting_mm is None:
            texts.append(f"not corrected for {cut.wanted_text}: no shop is known")
        else:
            left = cut.remainder_mm or 0.0
            comes = cut.wanted_mm + (left if abs(left) >= _LEAST_MM else 0.0)
            texts.append(f"gives {quantity(comes, 'mm', unit)}")
    if cut.blade_mm is not None:
        texts.append(f"blade {size_said(cut.blade_mm, unit)} up")
    return f"{', '.join(texts)}." if texts else ""


def _body(cut: PlanTicket) -> list[str]:
    board, _, piece = cut.piece.partition("/")
    taken = f"Board {board}{f', piece {piece}' if piece else ''}."
    lies = [f"Face {cut.face}.", f"{cut.edge[:1].upper()}{cut.edge[1:]}."] if cut.edge else [f"Face {cut.face}."]
    return [f"{copies(cut.text).rstrip('.')}.", " ".join((taken, *lies)), *([cut.first] if cut.first else [])]
