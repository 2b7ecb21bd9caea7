"""Blunders that only several runs can show: what is wrong shows in how findings and moves go together.

A virtual sled is cut and set as the standing says; the blunder is in how it is read, turned or locked. Whether it
could be seen is said by rules that know the truth of the sled and nothing of the product.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace

import numpy as np
from benchmarks.planted.kind import Kind, Planted
from benchmarks.virtual.nature import USUAL, Nature
from benchmarks.virtual.sled import LENGTH_IN, Sled
from benchmarks.virtual.told import TOLERANCE
from benchmarks.virtual.with_tool import FENCE, LIMITS, STARTS, Person, approach_of

from trued.advice.statuses import standings_of
from trued.standing.charts.chart_signals import signals, untouched
from trued.standing.feature_status import ActionKind, FeatureStatus
from trued.standing.filtered.observed_gain import BACKLASH, CLAMPED
from trued.standing.history.history import in_order
from trued.standing.learned.learned_state import LearnedState

ENDS = {"fence_end": "free_end", "free_end": "fence_end"}
NEVER_TURNED = "it cannot be seen: a strip does not tell which of its ends was at the fence"
NEVER_FIFTH = "it cannot be seen: of many an honest screw 80 % arrives, and the next run says what is left"
STEADY = replace(USUAL, reversed_in=0.0, slips=0.0, backlash=0.0, response=(0.85, 1.15))
READING = 0.001 / math.sqrt(3.0) / 4.0 / 12.0  # rad: what four readings of a caliper leave in one run
MOVES, RUNS = 3, 12
LARGE, CLEAR, SLIPPED, APART = 4.0, 3.0, 5.0, 7.0  # times


@dataclass
class Session:
    """What was said in one session, the moves as they were commanded, and the shop's own scatter between two runs."""

    person: Person
    said: set[str] = field(default_factory=set)
    moves: list[float] = field(default_factory=list)
    known: LearnedState = field(default_factory=lambda: LearnedState(starts=dict(STARTS)))

    @property
    def differ(self) -> float:
        """Standard deviation of the difference of two runs, with the settling of a lock between them."""
        return math.sqrt(2.0 * self.scatter**2 + self.person.sled.settling**2)

    @property
    def scatter(self) -> float:
        """Standard deviation of one run."""
        sled = self.person.sled
        return math.sqrt((sled.swing**2 + sled.seating**2) / 4.0 + READING**2)

    def look(self) -> FeatureStatus:
        """The standing now, gone on from what the rows before have taught, as a book does."""
        person, rows = self.person, in_order(self.person.history())
        self.known.take_all(rows[self.known.rows :])
        (standing,) = standings_of(self.known, person.now, limits=LIMITS)
        self.said |= {standing.blunder} - {""}
        if standing.set_aside:
            self.said.add("set-aside")
        return standing

    def set_true(self, most: int = MOVES) -> None:
        """Run and do what is said until it is left, or has been turned so often."""
        for _ in range(RUNS):
            self.person.run()
            standing = self.look()
            then = standing.next
            if (
                then is None
                or then.do in (ActionKind.LEAVE, ActionKind.LOOK)
                or (then.do is ActionKind.MOVE and len(self.moves) == most)
            ):
                return
            if then.do is ActionKind.MOVE and then.amount is not None:
                sign = 1.0 if then.direction == "open" else -1.0
                self.moves.append(self.person.turn(sign * then.amount, approach_of(standing)))


def begun(rng: np.random.Generator, nature: Nature = STEADY, make: type[Sled] = Sled) -> Session:
    """A shop of its own, in which nothing has been done yet."""
    return Session(Person(make(nature, int(rng.integers(2**31)), 0)))


def after_moves(session: Session) -> Planted:
    """It could show where the first move was `LARGE` times what two runs differ by."""
    session.set_true()
    return Planted(frozenset(session.said), bool(session.moves) and abs(session.moves[0]) > LARGE * session.differ)


def scripted(session: Session, *moves: float) -> None:
    """Two runs, then a move and two runs again, and so on, whatever the standing says."""
    for u in (0.0, *moves):
        if u:
            session.person.turn(u, 0)
        for _ in range(2):
            session.person.run()


def scripted_on(session: Session, u: float) -> None:
    """One move more, and what is said after each of two runs."""
    session.person.turn(u, 0)
    for _ in range(2):
        session.person.run()
        session.look()


# --- how it is read and turned


class Swapped(Sled):
    """Its strip is read with the two ends changed over, always."""

    def five_cut(self) -> tuple[str, ...]:
        return tuple(_swapped(text) for text in super().five_cut())


def _swapped(text: str) -> str:
    name, _, number = text.partition("=")
    return f"{ENDS.get(name, name)}={number}"


def ends_swapped(rng: np.random.Generator) -> Planted:
    """The two ends of the strip changed over in every run."""
    return after_moves(begun(rng, make=Swapped))


def arrives(low: float, high: float) -> Callable[[np.random.Generator], Planted]:
    """Of every move so much arrives."""

    def plant(rng: np.random.Generator) -> Planted:
        return after_moves(begun(rng, replace(STEADY, response=(low, high))))

    return plant


def clamped(rng: np.random.Generator) -> Planted:
    """Tightening the clamp takes back 30 to 70 % of every move."""
    session = begun(rng, replace(STEADY, response=(0.3, 0.7)))
    session.set_true()
    moved = math.sqrt(math.fsum(u * u for u in session.moves))
    lacks = 0.8 - session.person.sled.g
    return Planted(frozenset(session.said), len(session.moves) > 1 and lacks * moved > CLEAR * session.differ)


def first_run(rng: np.random.Generator) -> Planted:
    """The ends of the strip changed over in a first run: nothing was turned yet."""
    session = begun(rng, make=Swapped)
    session.person.run()
    session.look()
    return Planted(frozenset(session.said), False)


def fifth(rng: np.random.Generator) -> Planted:
    """Divided by five instead of four: 80 % arrives, as of many an honest screw."""
    return Planted(after_moves(begun(rng, replace(STEADY, response=(0.8, 0.8)))).said, False)


# --- what does not stay


def slips(rng: np.random.Generator) -> Planted:
    """Two moves arrive; at the third the lock slips by 0.0002 to 0.0015 rad."""
    session = begun(rng)
    slip = rng.choice([-1.0, 1.0]) * rng.uniform(2e-4, 1.5e-3)
    scripted(session, 8e-4, 6e-4)
    session.person.sled.x += slip
    scripted_on(session, 4e-4)
    return Planted(frozenset(session.said), abs(slip) > SLIPPED * session.differ)


def turned_back(rng: np.random.Generator) -> Planted:
    """Two moves one way, then one back without going past the place: play of up to 0.0005 rad takes up its start."""
    session = begun(rng)
    sled = session.person.sled
    sled.backlash = rng.uniform(1e-4, 5e-4)
    way = rng.choice([-1.0, 1.0])
    scripted(session, way * 8e-4, way * 8e-4)
    scripted_on(session, -way * 6e-4)
    return Planted(frozenset(session.said), sled.backlash > SLIPPED * session.differ)


def creeps(rng: np.random.Generator) -> Planted:
    """Ten runs with nothing touched, while the fence creeps by an even step from each to the next."""
    session = begun(rng)
    step = rng.choice([-1.0, 1.0]) * rng.uniform(0.0, 1.5e-4)
    for _ in range(10):
        session.person.run()
        session.look()
        session.person.sled.x += step
    told = list(signals(untouched(session.person.history().of(FENCE)), lambda x: f"{x:.2g}"))
    said = session.said | ({"chart"} if told else set())
    return Planted(frozenset(said), 9.0 * abs(step) > 6.0 * session.differ / math.sqrt(2.0))


def one_apart(spoil: Callable[[Sled, np.random.Generator], float]) -> Callable[[np.random.Generator], Planted]:
    """Five runs that agree, and a sixth with something wrong in it."""

    def plant(rng: np.random.Generator) -> Planted:
        session = begun(rng)
        for _ in range(5):
            session.person.run()
        by = spoil(session.person.sled, rng)
        session.person.run()
        session.look()
        return Planted(frozenset(session.said), abs(by) > APART * session.differ)

    return plant


def bumped(sled: Sled, rng: np.random.Generator) -> float:
    """The fence was bumped by up to 0.002 rad, and nobody told."""
    by = float(rng.uniform(-2e-3, 2e-3))
    sled.x += by
    return by


def swapped_once(sled: Sled, _rng: np.random.Generator) -> float:
    """The ends of this one strip changed over: it says the contrary."""
    by = -2.0 * sled.x
    sled.x += by
    return by


def turned_wrong(sled: Sled, _rng: np.random.Generator) -> float:
    """The panel, squared by the runs before, was turned the wrong way: its strip shows a quarter of what is wrong."""
    by = -0.75 * sled.x
    sled.x += by
    return by


# --- turning on noise


class Remembered(Sled):
    """Keeps what each strip says by itself: its taper over four times its length."""

    def five_cut(self) -> tuple[str, ...]:
        typed = super().five_cut()
        fence, free = ([float(t.partition("=")[2]) for t in typed if t.startswith(name)] for name in ENDS)
        self.says = (sum(free) - sum(fence)) / len(free) / 4.0 / LENGTH_IN
        return typed


def on_noise(rng: np.random.Generator) -> Planted:
    """A fence that is in, by less than half the tolerance, and a person who would set what one run shows."""
    session = begun(rng, make=Remembered)
    sled = session.person.sled
    assert isinstance(sled, Remembered)  # noqa: S101 -- it was made one above
    sled.x, shows = float(rng.uniform(-0.5, 0.5)) * TOLERANCE, True
    for _ in range(2):
        session.person.run()
        shows = shows and abs(sled.says) < 2.0 * math.sqrt(2.0) * session.scatter
        standing = session.look()
        if standing.next is None or standing.next.do is ActionKind.MOVE:
            return Planted(frozenset({"told to move"}), shows)
    return Planted(frozenset({"told to leave it or measure again"}), shows)


def honest(rng: np.random.Generator) -> Planted:
    """Nothing is wrong: what is named all the same."""
    session = begun(rng)
    session.set_true()
    return Planted(frozenset(session.said), True)


def kinds() -> list[Kind]:
    """Every kind that only several runs can show, then those that cannot be seen."""
    large = "the first move is more than four times what two runs of this shop differ by (standard deviation)"
    clear = "what lacks of 80 % of the moves is more than three times what they can tell, at two moves or more"
    five = "it is more than five times what two runs of this shop differ by"
    apart = "it is more than seven times what two runs of this shop differ by"
    creep = "over the ten runs it creeps by more than six times the scatter of one"
    noise = "no run says more than 2√2 times its own scatter"
    wrong, still, far = "ends-swapped-or-reversed", "screw-not-touching", "over-correction"
    made = [
        ("ends swapped, always", {wrong}, large, ends_swapped),
        ("turned the other way, or a reversed screw", {wrong}, large, arrives(-1.15, -0.85)),
        ("screw not touching", {still}, large, arrives(-0.03, 0.03)),
        ("by hand: length in mm, taper in inches", {still}, large, arrives(1 / 27, 1 / 24)),
        ("by hand: divided by two", {far}, large, arrives(1.9, 2.1)),
        ("over-correction", {far}, large, arrives(2.0, 2.6)),
        ("clamp moves the fence", {CLAMPED}, clear, clamped),
        ("lock slips", {"lock-slips"}, five, slips),
        ("backlash", {BACKLASH}, five, turned_back),
        ("creeps between runs", {"chart", "set-aside"}, creep, creeps),
        ("bumped between runs", {"set-aside"}, apart, one_apart(bumped)),
        ("ends swapped in one run of six", {"set-aside"}, apart, one_apart(swapped_once)),
        ("wrong turn of the panel in one run of six", {"set-aside"}, apart, one_apart(turned_wrong)),
        ("adjusting noise", {"told to leave it or measure again"}, noise, on_noise),
        ("ends swapped in a first run", {wrong}, NEVER_TURNED, first_run),
        ("by hand: divided by five", {CLAMPED}, NEVER_FIFTH, fifth),
    ]
    return [Kind(name, "five-cut", frozenset(names), shows, plant) for name, names, shows, plant in made]
