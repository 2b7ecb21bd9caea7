"""A plan as it is told and kept: one frozen value, which terminal, page and paper all show.

Its field names are the keys of `plan … --json`, and those of the kept plan. What is not known is None. Sizes are in
millimetres, and as texts where a person sets by them. It holds no thing that has to be worked out again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from trued.job.groups import CutGroup
from trued.measure.decision import Conformity
from trued.plan.check_priority import CheckPriority
from trued.plan.layout.cut_tree import Axis
from trued.plan.layout.result import Ended
from trued.plan.not_made import NotMade
from trued.plan.problem import SHORT, Problem
from trued.plan.tickets.ticket import Work
from trued.units import Unit

FORMAT = 2
"""Rises whenever a field comes or goes: a plan kept in another format is told to be so, and is never guessed at."""

Both = tuple[float, float]


@dataclass(frozen=True, slots=True)
class PlanPart:
    """A part of the job; text: its sizes as a person reads them."""

    id: str
    quantity: int
    length_mm: float | None
    width_mm: float | None
    thickness_mm: float | None
    text: str
    held_back: bool


@dataclass(frozen=True, slots=True)
class PlanRect:
    """A rectangle on a stock piece: x from its reference end along the length, y from its reference edge; mm."""

    x: float
    y: float
    length: float
    width: float

    @property
    def end_x(self) -> float:
        """Where it ends along the stock."""
        return self.x + self.length

    @property
    def end_y(self) -> float:
        """Where it ends across the stock."""
        return self.y + self.width

    @property
    def middle(self) -> tuple[float, float]:
        """Its middle."""
        return self.x + self.length / 2, self.y + self.width / 2


@dataclass(frozen=True, slots=True)
class PlanPlaced:
    """One copy of a part where it lies; turned: its length lies across the stock."""

    part: str
    copy: int
    x: float
    y: float
    length: float
    width: float
    turned: bool

    @property
    def rect(self) -> PlanRect:
        """Where it lies."""
        return PlanRect(self.x, self.y, self.length, self.width)


@dataclass(frozen=True, slots=True)
class PlanCut:
    """One cut through a whole piece, which lies at x, y. position: from the piece's reference side to the near side of
    the kerf. ticket: the cut in the order of cutting; None where there is no order."""

    ticket: str | None
    axis: Axis
    x: float
    y: float
    length: float
    width: float
    position: float
    kerf: float

    @property
    def rect(self) -> PlanRect:
        """Where the piece lies."""
        return PlanRect(self.x, self.y, self.length, self.width)

    @property
    def number(self) -> int | None:
        """Its number in the order of cutting."""
        return None if self.ticket is None else int(self.ticket.removeprefix("T"))


@dataclass(frozen=True, slots=True)
class PlanBoard:
    """One stock piece that is cut into: which, the copy of it, its size, what comes from it, and its cuts, the first of
    them through the whole piece."""

    id: str
    copy: int
    material: str
    length: float
    width: float
    placements: tuple[PlanPlaced, ...]
    offcuts: tuple[PlanRect, ...]
    waste: tuple[PlanRect, ...]
    defects: tuple[PlanRect, ...]
    cuts: tuple[PlanCut, ...]

    @property
    def title(self) -> str:
        """As a person says it."""
        return f"{self.id}, piece {self.copy}"


@dataclass(frozen=True, slots=True)
class PlanLayout:
    """What it comes to. cost: how much, in prices of the job or m². bound: no layout costs less. gap: share of the cost
    above it. ended, tried: what ended the search, and after how many layouts."""

    cost: tuple[float, str]
    bound: float
    gap: float
    ended: Ended
    tried: int
    stock: tuple[PlanBoard, ...]


@dataclass(frozen=True, slots=True)
class PlanTicket:
    """One cut.

    setting, new_setting: the id of the setting of stop or fence (None: nothing is set), and whether it is moved now.
    setting_mm:     where the scale is set for it; None: nothing is set, or no shop is known to correct it by.
    wanted_mm:      the size to come out; None for a trim and for a cut that only frees a piece.
    remainder_mm:   what the scale's rounding adds to the wanted size.
    face, edge:     how the piece lies. first: what to measure before and during the run.
    after:          the tickets that must be done before.
    before:         what must be done, and said to be done, before the number is shown: it rests on that.
    waits:          the fact that is missing; there is no number then, and the cut is not made.
    work, blade_mm: what lies on the bench for it, and how high the blade is set; None off the saw.
    unchecked:      what was never checked here and can hurt someone: the number stands behind a hold.
    """

    id: str
    station: str
    setting: str | None
    setting_mm: float | None
    scale_text: str | None
    piece: str
    parts: tuple[str, ...]
    after: tuple[str, ...]
    face: str
    edge: str
    first: str
    cautions: tuple[str, ...]
    text: str
    wanted_mm: float | None
    wanted_text: str | None
    remainder_mm: float | None
    new_setting: bool
    work: Work
    blade_mm: float | None
    before: tuple[str, ...]
    waits: str | None
    unchecked: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlanFit:
    """One fit: its limits, what it is meant to come to, and what is expected: None where no shop is known."""

    name: str
    mean_mm: float
    sd_mm: float | None
    chance: float | None
    chance_interval95: Both | None
    interval95_mm: Both | None
    shares: Mapping[str, float] | None
    total_shares: Mapping[str, float] | None
    method: str | None
    draws: int | None
    worst_at: str | None
    assumed: tuple[str, ...] | None
    limits_mm: tuple[float | None, float | None]
    meant_mm: float


@dataclass(frozen=True, slots=True)
class PlanSupport:
    """Whether table, wing and sled carry one cut; ok None: not reckoned, and text says which fact lacks."""

    ticket: str
    moment: str | None
    margin_mm: float | None
    ok: bool | None
    mend: str | None
    text: str


@dataclass(frozen=True, slots=True)
class PlanAssembly:
    """A piece that was written as a whole; said: what each joint made of its parts."""

    id: str
    kind: str
    said: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PlanNeeded:
    """How exactly a size must be cut for its fits, and what this saw keeps 95 times in 100."""

    part: str
    side: str
    tolerance_mm: float
    fit: str
    expected_mm: float | None
    enough: bool


@dataclass(frozen=True, slots=True)
class PlanCutToFit:
    """A size that is better cut to what has been measured: the chance of the fit as planned, and then."""

    part: str
    side: str
    fit: str
    chance: float
    then: float


@dataclass(frozen=True, slots=True)
class PlanSafety:
    """A safety item that the cuts rest on and that is not shown to be right. state: how it stands, in words."""

    feature: str
    decision: Conformity | None
    text: str
    state: str


@dataclass(frozen=True, slots=True)
class PlanKerf:
    """The kerf that the layout was made with, and where it comes from; assumed: nobody has measured it here."""

    mm: float
    source: str
    assumed: bool


@dataclass(frozen=True, slots=True)
class PlanGroup:
    """Which settings one copy is cut at."""

    part: str
    copy: int
    group: CutGroup


@dataclass(frozen=True, slots=True)
class PlanDocument:
    """The whole plan. layout None: there is none, and `problems` says why. support None: no shop is known."""

    job: str
    seed: int
    problems: tuple[Problem, ...]
    parts: tuple[PlanPart, ...]
    layout: PlanLayout | None
    order: tuple[PlanTicket, ...]
    settings: int | None
    settings_bound: int | None
    fits: tuple[PlanFit, ...]
    true_first: tuple[CheckPriority, ...]
    do_not_bother: tuple[str, ...]
    support: tuple[PlanSupport, ...] | None
    cautions: tuple[str, ...]
    sheets: tuple[str, ...]
    job_chance: float | None
    job_chance_interval95: Both | None
    job_chance_with_test_pieces: float | None
    assemblies: tuple[PlanAssembly, ...]
    tolerances_needed: tuple[PlanNeeded, ...]
    cut_to_fit: tuple[PlanCutToFit, ...]
    safety: tuple[PlanSafety, ...]
    method: str
    kerf: PlanKerf
    walks: int | None
    assumed: tuple[str, ...]
    stale: tuple[str, ...]
    left_out: tuple[str, ...]
    support_checked: tuple[str, ...]
    support_not_checked: tuple[str, ...]
    plan: str | None
    version: str | None
    format: int
    unit: Unit
    made: datetime
    shop: bool
    not_made: tuple[NotMade, ...]
    groups: tuple[PlanGroup, ...]

    @property
    def title(self) -> str:
        """The name of the job; a job need not have one."""
        return self.job or "A job without a name"

    @property
    def short(self) -> tuple[str, ...]:
        """Why parts have no place in the stock; () where all that can be cut now has one."""
        return tuple(problem.text for problem in self.problems if problem.code in SHORT)


def grouped(made: Iterable[PlanTicket]) -> tuple[tuple[PlanTicket, ...], ...]:
    """Tickets that follow one another at one station with one setting."""
    return tuple(tuple(group) for _, group in groupby(made, key=lambda ticket: (ticket.station, ticket.setting)))
