"""What a check asks for: its readings, the facts of saw or fixture that it needs, and the steps that lead to them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

NOT_0 = "{names} cannot be 0: measure again and type what is read."
"""The usual words of an ask that must be more than 0."""
NOT_0_THERE = "{places}: that cannot be 0. Measure again."


class Kind(StrEnum):
    """What a typed reading or fact is, and so how it is read."""

    LENGTH = "length"  # mm, 0 or more
    GAP = "gap"  # mm, with a sign
    ANGLE = "angle"  # rad
    DEGREES = "degrees"  # rad, 0 or more; a bare number is in degrees
    COUNT = "count"
    PERCENT = "percent"
    TEMPERATURE = "temperature"  # degrees Celsius
    MASS = "mass"  # kg
    FORCE = "force"  # N
    THREAD = "thread"  # pitch in mm
    CHOICE = "choice"


class Need(StrEnum):
    """What a fact of the fixture is needed for: the number itself, the size of the move, or its words."""

    VALUE = "value"
    MOVE = "move"
    WORDS = "words"


@dataclass(frozen=True, slots=True)
class ReadingSpec:
    """One reading to be asked for.

    `need` is the fewest and most readings at each station, `advise` how many to ask for. `stations`: () none, names,
    or the least number of lengths typed after "@"; of named stations all are needed, or any `least` of them where that
    is given. `one_thing`: its repeats are readings of one and the same thing
    (False where each is another part or another seat). `expect` is the usual range in the kind's unit; outside it
    the person is asked to look again.

    `positive`: what is said where it reads 0 and cannot; `{names}` and `{places}` are the readings that do. `alike`:
    the group of those that are about one size, of which one in the other unit shows. `edge`: its repeats at one spot
    differ by fuzz or a burr.
    """

    name: str
    text: str
    kind: Kind = Kind.LENGTH
    instrument: str = "caliper"
    need: tuple[int, int] = (1, 20)
    advise: int = 1
    stations: tuple[str, ...] | int = ()
    row: str = ""
    expect: tuple[float, float] | None = None
    choices: tuple[str, ...] = ()
    optional: bool = False
    one_thing: bool = True
    least: int | None = None
    positive: str = ""
    alike: str = ""
    edge: bool = False

    def __post_init__(self) -> None:
        if not self.name.isidentifier() or not self.text:
            raise ValueError(f"an ask needs a snake_case name and words, got {self.name!r}")
        if (self.kind is Kind.CHOICE) != bool(self.choices):
            raise ValueError(f"{self.name}: choices and the kind choice go together")
        if not 1 <= self.need[0] <= self.advise <= self.need[1]:
            raise ValueError(f"{self.name}: fewest <= advised <= most readings, got {self.need} and {self.advise}")
        if self.least is not None and (isinstance(self.stations, int) or not 0 < self.least <= len(self.stations)):
            raise ValueError(f"{self.name}: least counts named stations, from 1 to all of them, got {self.least}")


@dataclass(frozen=True, slots=True)
class SetupFact:
    """Something of the saw or fixture that the check must know; `--name` on the command line.

    of_run: it is another in each run, as the angle that the fence was set to: asked each time, never kept.
    """

    name: str
    text: str
    kind: Kind = Kind.CHOICE
    choices: tuple[str, ...] = ()
    needed_for: Need = Need.VALUE
    of_run: bool = False

    def __post_init__(self) -> None:
        if (self.kind is Kind.CHOICE) != bool(self.choices):
            raise ValueError(f"{self.name}: choices and the kind choice go together")


@dataclass(frozen=True, slots=True)
class Step:
    """One thing to do, the asks it serves, and the caution that stands with it."""

    text: str
    asks: tuple[str, ...] = ()
    caution: str = ""
