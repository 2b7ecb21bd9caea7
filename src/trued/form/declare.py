"""What a check declares of itself: asks, facts, steps, cautions, arithmetic, moves, blunders, drawing, example.

Web form, command line, stored rows and printed sheet all come from this declaration.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Literal

from trued.measure.decision import Limits
from trued.measure.estimate import Uncertain
from trued.measure.scatter import Scatter
from trued.shapes import Drawing
from trued.shop.stop_parts import Cuts

if TYPE_CHECKING:
    from trued.form.taken import Taken


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


class Act(StrEnum):
    """What a warning does: nothing is worked out; someone can get hurt; shown but not proven and no move; said only.

    What can hurt someone is said before all else and always counts: it may put something out of use, and proves nothing
    in.
    """

    REFUSE = "refuse"
    DANGER = "danger"
    DOUBT = "doubt"
    NOTE = "note"


class Need(StrEnum):
    """What a fact of the fixture is needed for: the number itself, the size of the move, or its words."""

    VALUE = "value"
    MOVE = "move"
    WORDS = "words"


@dataclass(frozen=True, slots=True)
class Ask:
    """One reading to be asked for.

    `need` is the fewest and most readings at each station, `advise` how many to ask for. `stations`: () none, names,
    or the least number of lengths typed after "@"; of named stations all are needed, or any `least` of them where that
    is given. `one_thing`: its repeats are readings of one and the same thing
    (False where each is another part or another seat). `expect` is the usual range in the kind's unit; outside it
    the person is asked to look again.
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
class Fact:
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


@dataclass(frozen=True, slots=True)
class BetweenRuns:
    """How far the whole procedure repeats from run to run before this shop has shown its own (unit of the feature)."""

    label: str
    start: Scatter
    source: str


@dataclass(frozen=True, slots=True)
class Found:
    """One feature as found by a check; `limits` None means there is nothing to decide. Unit: `rad`, `mm`, `mm/mm`.

    `spread` holds where the feature is itself a scatter, as how well a stop repeats: its interval and its chance
    then follow chi-square, and `value` is the same to first order.
    """

    feature: str
    unit: str
    value: Uncertain
    limits: Limits | None = None
    safety: bool = False
    spread: Scatter | None = None


@dataclass(frozen=True, slots=True)
class Move:
    """What to do about one feature. `amount_mm` is at `where`; None while a fact needed for it is not known."""

    feature: str
    text: str
    where: str
    direction: str
    amount_mm: float | None


@dataclass(frozen=True, slots=True)
class Seen:
    """Something wrong, or worth saying, that the readings themselves show.

    features: which of the check's features a danger is about; () is all of them.
    """

    code: str
    act: Act
    text: str
    features: tuple[str, ...] = ()

    def is_about(self, feature: str) -> bool:
        """Whether it is about that bare feature."""
        return not self.features or feature in self.features


@dataclass(frozen=True, slots=True)
class Example:
    """A worked example as typed on the command line, what it gives (feature, value), and where it comes from.

    facts: of that run alone, by name, as its angle.
    """

    given: tuple[str, ...]
    gives: tuple[tuple[str, float], ...]
    source: str
    facts: tuple[tuple[str, str], ...] = ()

    @property
    def words(self) -> tuple[str, ...]:
        """All of it as it is typed behind the name of the check."""
        return *self.given, *(word for name, text in self.facts for word in (f"--{name}", text))


@dataclass(frozen=True, slots=True)
class Check:
    """A measuring procedure. `version` rises when its arithmetic changes; `ground` names what must be true before.

    dangers: what can hurt someone, each decided from those readings that it needs, whatever else is missing; None while
             those are not there. It is said first, also where the run is refused.
    apart:   what to look at when two runs with nothing touched between differ by more than they can: the method.
    made_on: what of the saw its steps cut with: the `sled`, the rip `fence`, the `saw` by any way, or a `joint` that
             does not go through the wood; "" where nothing is cut. It is not ordered where that must not be used.
    ends:    two readings that say the contrary when they are changed over.
    parts:   of a check that cuts against the stop, the parts of each setting: what they say of its scale counts
             together with all others.
    """

    id: str
    version: int
    title: str
    purpose: str
    minutes: float
    features: tuple[str, ...]
    at_hand: tuple[str, ...]
    cautions: tuple[str, ...]
    asks: tuple[Ask, ...]
    steps: tuple[Step, ...]
    evaluate: Callable[[Taken], tuple[Found, ...]]
    moves: Callable[[Taken, tuple[Found, ...]], tuple[Move, ...]]
    blunders: tuple[Callable[[Taken], Seen | None], ...]
    draw: Callable[[Taken, tuple[Found, ...]], Drawing]
    example: Example
    sources: tuple[str, ...]
    facts: tuple[Fact, ...] = ()
    ground: tuple[str, ...] = ()
    between_runs: BetweenRuns | None = None
    dangers: tuple[Callable[[Taken], Seen | None], ...] = ()
    apart: str = "Was the same thing read at the same places, in the same way?"
    made_on: Literal["", "sled", "fence", "saw", "joint"] = ""
    ends: tuple[str, str] | None = None
    parts: Callable[[Taken], tuple[Cuts, ...]] | None = None

    def __post_init__(self) -> None:
        names = [ask.name for ask in self.asks]
        twice = [name for name, n in Counter(names).items() if n > 1]
        served = {name for step in self.steps for name in step.asks}
        if twice:
            raise ValueError(f"{self.id}: asks declared twice: {', '.join(twice)}")
        if missing := set(names) - served:
            raise ValueError(f"{self.id}: no step serves {', '.join(sorted(missing))}")
        if unknown := served - set(names):
            raise ValueError(f"{self.id}: a step serves unknown asks {', '.join(sorted(unknown))}")
        if not (self.features and self.cautions and self.sources and self.at_hand):
            raise ValueError(f"{self.id}: features, cautions, sources and what to have at hand must be given")

    def ask(self, name: str) -> Ask:
        """The ask of that name; KeyError otherwise."""
        return next((ask for ask in self.asks if ask.name == name), None) or _missing(self.id, name)


def _missing(check: str, name: str) -> Ask:
    raise KeyError(f"{check} has no ask {name!r}")
