"""What is printed, as plain values: a head for all sheets, and tickets, boards and fits as ready texts and drawings."""

from dataclasses import dataclass
from datetime import datetime

from trued.drawing.shapes import Drawing
from trued.render.board import KeyLine


@dataclass(frozen=True, slots=True)
class Head:
    """What stands on every page, so that the paper is of use alone.

    job:       its name.
    made:      when, with its zone.
    version:   of the plan or the standings that the sheets were made from.
    replaces:  the version that is void now; "" for the first.
    """

    job: str
    made: datetime
    version: str
    replaces: str = ""

    def __post_init__(self) -> None:
        if self.made.tzinfo is None:
            raise ValueError("a sheet is dated with a time zone")
        if not (self.job and self.version):
            raise ValueError("a sheet needs the name of the job and a version")


@dataclass(frozen=True, slots=True)
class TicketLine:
    """One cut, or several alike that are made one after the other.

    number:   in the order of cutting, from 1.
    part:     what comes of it, with its letter.
    lies:     which face is down and which edge goes to the fence, and on which side it is kept.
    source:   which piece of stock it is cut from.
    boxes:    how many cuts to tick off; 0 where it is not made as things are.
    cautions: that belong to this step. first: what is done, or looked at, before it.
    waits:    the fact without which it is not made; "" where it waits for none.
    """

    number: int
    part: str
    lies: str = ""
    source: str = ""
    boxes: int = 1
    cautions: tuple[str, ...] = ()
    first: tuple[str, ...] = ()
    waits: str = ""

    def __post_init__(self) -> None:
        if not self.part or self.number < 1 or self.boxes < 0:
            raise ValueError(f"a ticket needs a part and a number from 1 on, not {self!r}")


@dataclass(frozen=True, slots=True)
class TicketGroup:
    """One setting of a stop or fence and the cuts that are made without touching it.

    station:  what is set (sled stop, rip fence).
    setting:  the number to set, alone and short: it is printed very large. "" where nothing is set (a trim to a line).
    notes:    such as what true size the scale then gives, or that a scrap is cut first; cautions, first as in a line.
    """

    station: str
    setting: str
    lines: tuple[TicketLine, ...]
    notes: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    first: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not (self.station and self.lines):
            raise ValueError("a group of tickets needs a station and at least one cut")


@dataclass(frozen=True, slots=True)
class TicketSheet:
    """The order of cuts. not_made: parts that are in none, why, and what could make them."""

    title: str
    groups: tuple[TicketGroup, ...]
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    not_made: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BoardSheet:
    """One stock piece: its drawing and what the letters stand for."""

    title: str
    drawing: Drawing
    key: tuple[KeyLine, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FitLine:
    """One fit of the finished piece.

    needed, expected, spread:  as texts with their units.
    chance:   in words. beside: what it rests on, if not on this shop.
    because:  what its spread comes from.
    """

    name: str
    needed: str
    expected: str
    spread: str
    chance: str
    because: str = ""
    beside: str = ""


@dataclass(frozen=True, slots=True)
class FitSheet:
    """Whether it goes together."""

    title: str
    lines: tuple[FitLine, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HistoryLine:
    """One finding, move or event: the day, what it was, and what more there is to it."""

    day: str
    text: str
    more: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class HistorySheet:
    """One feature: what is believed of it, its history drawn, then row by row as ordered here."""

    title: str
    state: tuple[str, ...]
    drawing: Drawing
    lines: tuple[HistoryLine, ...]
    notes: tuple[str, ...] = ()


Sheet = TicketSheet | BoardSheet | FitSheet | HistorySheet
