"""What happened at a saw, in order: findings, moves and events, with no row that a later one corrected."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TypeVar

from trued.measure.decision import ToleranceLimits
from trued.measure.estimate import UncertainValue
from trued.standing.feature import find_feature, named
from trued.standing.history.event import EVENTS
from trued.standing.stop_model import Cuts

Warned = tuple[str, str]
"""Code and sentence of a warning."""


@dataclass(frozen=True, slots=True)
class Result:
    """One feature as one run found it, in `rad`, `mm` or `mm/mm`. `run` is the run's id, shared by its features.

    `supersedes` names the run that this one corrects: no feature of that one counts any more. `arrived`, here and
    below, is the order in which rows of the same moment came in, 0 where that is not known. `doubts`: what its own
    readings show against it; it then waits to be confirmed (unconfirmed.py). `dangers`: what of it can hurt someone.
    `right`: the person has answered what was asked about it and the moves before it; `anew`: that it was cut or set up
    anew, however soon it came.
    `cuts`: the parts cut against a stop that it was found from.
    """

    at: datetime
    feature: str
    unit: str
    x: UncertainValue
    check: str
    run: str
    limits: ToleranceLimits | None = None
    supersedes: str = ""
    arrived: int = 0
    doubts: tuple[Warned, ...] = ()
    dangers: tuple[Warned, ...] = ()
    right: bool = False
    anew: bool = False
    cuts: tuple[Cuts, ...] = ()

    def __post_init__(self) -> None:
        _zoned(self.at)

    @property
    def id(self) -> str:
        """The row's id within a history: the run's."""
        return self.run


@dataclass(frozen=True, slots=True)
class Adjustment:
    """A move as it was really made: `amount` (rad or mm, 0 or more) in one of the feature's two directions."""

    at: datetime
    feature: str
    amount: float
    direction: str
    typed: str = ""
    id: str = ""
    supersedes: str = ""
    arrived: int = 0

    def __post_init__(self) -> None:
        _zoned(self.at)
        feature = find_feature(self.feature)
        if feature is None or feature.directions is None:
            raise ValueError(f"{self.feature} cannot be moved")
        if self.direction not in feature.directions:
            raise ValueError(f"{self.feature} moves {' or '.join(feature.directions)}, got {self.direction!r}")
        if not self.amount >= 0.0:
            raise ValueError(f"a move is 0 or more, its way is the direction; got {self.amount}")

    @property
    def u(self) -> float:
        """The signed move: positive is the one that lowers the feature's value."""
        feature = find_feature(self.feature)
        first = feature is not None and feature.directions is not None and self.direction == feature.directions[0]
        return self.amount if first else -self.amount


@dataclass(frozen=True, slots=True)
class ShopEvent:
    """An event of the table in event.py. `subject` is the thing it happened to, "" for all that the event can mean."""

    at: datetime
    kind: str
    subject: str = ""
    id: str = ""
    supersedes: str = ""
    arrived: int = 0

    def __post_init__(self) -> None:
        _zoned(self.at)
        if self.kind not in EVENTS:
            raise ValueError(f"no event is called {self.kind!r}; known: {', '.join(EVENTS)}")

    def stales(self, feature: str) -> float | None:
        """The doubt (standard deviation, unit of the feature) that this event adds to it; None when it adds none."""
        return EVENTS[self.kind].doubt_of(named(feature), self.subject)


@dataclass(frozen=True, slots=True)
class Answered:
    """What the person answered to a question (`errors.Question`): `word` to the question `code` about `about`.

    about: the id of a row of this history, or the name of what was asked about.
    """

    at: datetime
    about: str
    code: str
    word: str
    id: str = ""
    supersedes: str = ""

    def __post_init__(self) -> None:
        _zoned(self.at)


Row = Result | Adjustment | ShopEvent
_R = TypeVar("_R", Result, Adjustment, ShopEvent)


@dataclass(frozen=True, slots=True)
class History:
    """All rows that count, each kind in order of time: the order in which they are given here does not matter.

    A row that another one supersedes is dropped here, and so is a second copy of a row. `answered` holds every answer,
    whatever row it is about: also one that came later than the last row.
    """

    observed: tuple[Result, ...] = ()
    moved: tuple[Adjustment, ...] = ()
    happened: tuple[ShopEvent, ...] = ()
    answered: tuple[Answered, ...] = ()

    def __post_init__(self) -> None:
        gone = {row.supersedes for rows in (self.observed, self.moved, self.happened) for row in rows} - {""}
        object.__setattr__(self, "observed", _in_order(self.observed, gone))
        object.__setattr__(self, "moved", _in_order(self.moved, gone))
        object.__setattr__(self, "happened", _in_order(self.happened, gone))
        object.__setattr__(self, "answered", _last_of_each(self.answered))

    @property
    def features(self) -> tuple[str, ...]:
        """Every feature that was found at least once, sorted by name."""
        return tuple(sorted({row.feature for row in self.observed}))

    def of(self, feature: str) -> tuple[Row, ...]:
        """Findings and moves of one feature and the events that touch it, in order."""
        rows: list[Row] = [row for row in self.observed if row.feature == feature]
        rows += [row for row in self.moved if row.feature == feature]
        rows += [row for row in self.happened if row.stales(feature) is not None]
        return tuple(sorted(rows, key=_order))

    def answer(self, about: str, code: str) -> str | None:
        """What was answered last to that question about that; None when it was not."""
        words = (row.word for row in reversed(self.answered) if row.about == about and row.code == code)
        return next(words, None)

    def until(self, now: datetime) -> History:
        """What had happened by `now`."""
        if all(not rows or rows[-1].at <= now for rows in (self.observed, self.moved, self.happened, self.answered)):
            return self
        return History(
            tuple(row for row in self.observed if row.at <= now),
            tuple(row for row in self.moved if row.at <= now),
            tuple(row for row in self.happened if row.at <= now),
            tuple(row for row in self.answered if row.at <= now),
        )


def in_order(history: History) -> tuple[Row, ...]:
    """All rows of a history in the one order in which they count."""
    return tuple(sorted((*history.observed, *history.moved, *history.happened), key=_order))


_KIND = {ShopEvent: 0, Adjustment: 1, Result: 2}


def _order(row: Row) -> tuple[datetime, int, int, str, str]:
    """By the time that was told; at the same moment by arrival; where that is not known, what was done comes before
    what was found, then by id."""
    feature = "" if isinstance(row, ShopEvent) else row.feature
    return row.at, row.arrived, _KIND[type(row)], row.id, feature


def _in_order(rows: tuple[_R, ...], gone: set[str]) -> tuple[_R, ...]:
    kept: dict[object, _R] = {}
    for row in sorted(rows, key=_order):
        if row.id not in gone:
            kept.setdefault(_same(row), row)
    return tuple(kept.values())


def _last_of_each(rows: tuple[Answered, ...]) -> tuple[Answered, ...]:
    """In order; an answer that another one corrects is dropped, and so is a second copy."""
    gone = {row.supersedes for row in rows} - {""}
    found = sorted({row for row in rows if row.id not in gone or not row.id}, key=lambda row: (row.at, row.id))
    return tuple(found)


def _same(row: Row) -> object:
    """What tells two rows apart: the id, and for findings the feature; a row without id is one by its content."""
    if isinstance(row, Result):
        return row.run, row.feature
    return row.id or row


def _zoned(at: datetime) -> None:
    if at.tzinfo is None:
        raise ValueError("a time in a history carries its zone")
