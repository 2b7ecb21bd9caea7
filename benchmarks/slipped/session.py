"""One session with one slip: the person follows what is said, slips once, and answers truthfully what is asked."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta

from benchmarks.slipped.exact import Step, posterior
from benchmarks.slipped.shop import Sled

import trued.checks  # noqa: F401  # tells the core the features that the checks declare
from trued.advice.statuses import standings_of
from trued.measure.decision import Conformity, ToleranceLimits
from trued.measure.distribution.standard_deviation import EstimatedSd
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.feature_status import ActionKind, FeatureStatus
from trued.standing.filtered.gain_mixture import ORDINARY
from trued.standing.filtered.slip import Slip
from trued.standing.history.history import Adjustment, History, Result
from trued.standing.learned.learned_state import fold_history

FENCE, CHECK = "sled.fence-angle@0", "five-cut"
BEGIN = datetime(2026, 3, 2, 8, 0, tzinfo=UTC)
LIMITS = ToleranceLimits.within(2e-4)
START = EstimatedSd(5e-5, 4.0)
MOST_RUNS, MOST_ASKED = 14, 4
TELLS = 0.90
KINDS = (Slip.FORGOTTEN, Slip.TWICE, Slip.DECIMAL, Slip.WAY, Slip.STILL, Slip.SAME)


@dataclass
class Came:
    """kind: what slipped (None: nothing). named: what was named first, "" if nothing was. tells: whether the exact
    posterior gave it 90 % or more at a run no later than that. wrong: whether the response told at the end is farther
    from the true one than three of its standard deviations, and than what is assumed before any move. false: questions
    asked before or without a slip.
    """

    kind: Slip | None
    named: str = ""
    tells: bool = False
    wrong: bool = False
    runs: int = 0
    proven: bool = False
    true_in: bool = False
    asked: int = 0
    false: int = 0
    best: dict[Slip, float] = field(default_factory=dict)


class Session:
    """A person at a sled, with the rows as they were recorded; what really was stands beside, for the answers."""

    def __init__(self, seed: int, number: int, kind: Slip | None) -> None:
        self.sled, self.now = Sled(seed, number), BEGIN
        self.rng = self.sled.rng
        self.kind, self.came = kind, Came(kind)
        self.at_move, self.moves_made = self.rng.choice((1, 1, 2)), 0
        self.detail = self.rng.choice(("turned", "ends")) if kind is Slip.WAY else self.rng.choice(("tenth", "tenfold"))
        self.observed: list[Result] = []
        self.moved: list[Adjustment] = []
        self.steps: list[Step] = []
        self.slipped = self.mended = False
        self.truth: tuple[str, str] = ("", "")  # id of the row that is wrong, and what is wrong with it
        self.real: list[Adjustment] = []  # a move that was made and not recorded
        self.first = 0.0

    def run(self, *, again: bool = False, swapped: bool = False, advised: float = 0.0) -> None:
        self.now += timedelta(minutes=2.0 if again else 15.0)
        if not again:
            self.sled.cut()
        z = self.sled.read() * (-1.0 if swapped else 1.0)
        value = UncertainValue.of(
            z,
            ErrorSource("run:five-cut", "", START.s, START.dof),
            ErrorSource("reading:free@", "", self.sled.read_s, 10),
        )
        self.observed.append(Result(self.now, FENCE, "rad", value, CHECK, f"run-{len(self.steps):03d}", LIMITS))
        self.steps.append(Step(z, move=False, advised=advised, quick=again))
        self.came.runs += 1

    def record(self, u: float, advised: float) -> None:
        self.now += timedelta(minutes=2.0)
        way = "open" if u > 0.0 else "close"
        self.moved.append(Adjustment(self.now, FENCE, abs(u), way, id=f"move-{len(self.steps):03d}"))
        self.steps.append(Step(u, move=True, advised=advised))

    def standing(self) -> FeatureStatus:
        known = fold_history(History(tuple(self.observed), tuple(self.moved)), {CHECK: START})
        (standing,) = standings_of(known, self.now, limits={FENCE: LIMITS})
        return standing

    def play(self) -> Came:
        """Until it is left, or the runs are used up."""
        came = self.came
        if self.kind is Slip.WAY and self.detail == "ends" and self.rng.random() < 0.3:
            self.run(swapped=True)  # the very first strip
            self.slipped, self.truth = True, (self.observed[-1].run, "ends")
        else:
            self.run()
        while came.runs < MOST_RUNS:
            standing = self.look()
            then = standing.next
            assert then is not None  # noqa: S101 -- there is a tolerance
            if then.do is ActionKind.LEAVE:
                came.proven = standing.decision is Conformity.PROVEN_IN
                break
            if then.do is ActionKind.MOVE and then.amount is not None:
                u = self.sled.settable(then.amount if then.direction == "open" else -then.amount)
                self.turn(u, {"open": 1, "close": -1}.get(then.approach, 0))
            else:
                self.again()
        standing = self.look()
        came.true_in = abs(self.sled.x) <= LIMITS.high if LIMITS.high is not None else False
        if standing.response is not None:
            g, u_g = standing.response
            came.wrong = abs(g - self.sled.g) > max(3.0 * u_g, ORDINARY.u)
        return came

    def again(self) -> None:
        """One run more with nothing touched; or the same strip once more."""
        if self.kind is Slip.SAME and not self.slipped and self.rng.random() < 0.5:
            self.run(again=True)
            self.slipped, self.truth = True, (self.observed[-1].run, "same")
            return
        self.run()

    def turn(self, u: float, approach: int) -> None:
        """Turn as told and record it, and cut again; at the chosen move it slips."""
        self.moves_made += 1
        slips = self.kind if not self.slipped and self.moves_made >= self.at_move else None
        arrives = self.rng.gauss(0.0, 0.03) if slips is Slip.STILL else 1.0
        turned = -u if slips is Slip.WAY and self.detail == "turned" else u
        if slips is not Slip.SAME:
            self.sled.turn(turned, approach if turned == u else -approach, arrives)
        forgotten = slips is Slip.FORGOTTEN
        if not forgotten:
            typed = u * {"tenth": 10.0, "tenfold": 0.1}[self.detail] if slips is Slip.DECIMAL else u
            self.record(typed, u)
            if slips is Slip.TWICE:
                self.record(u, u)
        last = self.moved[-1].id if self.moved else ""
        if slips is Slip.SAME:  # turned and recorded, and then the old strip is read and typed once more
            self.sled.turn(turned, approach)
        swaps = slips is Slip.WAY and self.detail == "ends"
        self.run(again=slips is Slip.SAME, swapped=swaps, advised=u if forgotten else 0.0)
        if slips is None:
            return
        self.slipped, run = True, self.observed[-1].run
        if forgotten:
            self.real = [
                Adjustment(self.now - timedelta(minutes=1), FENCE, abs(u), "open" if u > 0 else "close", id="told")
            ]
        self.truth = {
            Slip.FORGOTTEN: (run, "forgot"),
            Slip.TWICE: (last, "once"),
            Slip.DECIMAL: (last, self.detail),
            Slip.WAY: (run, "ends") if swaps else (last, "turned"),
            Slip.STILL: (last, "still"),
            Slip.SAME: (run, "same"),
        }[slips]

    def look(self) -> FeatureStatus:
        """What stands; a question is answered, so often as one is asked."""
        for _ in range(MOST_ASKED):
            standing = self.standing()
            named = standing.blunder
            if self.slipped and not self.came.named:
                best = posterior(self.sled, self.steps)
                if self.kind is not None and best.get(self.kind, 0.0) >= TELLS and not self.mended:
                    self.came.tells, self.came.best = True, best
            if named and not self.came.named:
                self.came.named = named
            if not getattr(standing, "asked", None):
                return standing
            self.came.asked += 1
            self.came.false += not self.slipped or self.mended
            self.answer()
        return self.standing()

    def answer(self) -> None:
        """What slipped is mended; else all is right as it was typed."""
        if not self.slipped or self.mended:
            self.observed[-1] = replace(self.observed[-1], right=True)
            return
        self.mended = True
        id, what = self.truth
        if what == "forgot":
            self.moved = [*self.moved, *self.real]
        elif what in ("once", "still"):
            self.moved = [move for move in self.moved if move.id != id]
        elif what in ("tenth", "tenfold", "turned"):
            self.moved = [self._mended(move, what) if move.id == id else move for move in self.moved]
        elif what == "ends":
            flip = [replace(o, x=UncertainValue(-o.x.value, o.x.parts)) if o.run == id else o for o in self.observed]
            self.observed = flip
        elif what == "same":
            self.observed = [row for row in self.observed if row.run != id]

    def _mended(self, move: Adjustment, what: str) -> Adjustment:
        if what == "turned":
            return replace(move, direction="close" if move.direction == "open" else "open")
        return replace(move, amount=move.amount * (0.1 if what == "tenth" else 10.0))
