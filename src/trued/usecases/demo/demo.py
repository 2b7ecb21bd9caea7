"""The whole loop in the demo workshop: check, turn, check, plan, cut, prove. Every figure comes from the tool itself.

The workshop and its hidden truth are invented (demo_truth.py). Its owner does what a person would: reads to the last
digit of a caliper, turns by the nearest feeler, and believes the tool.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from importlib.resources import files
from pathlib import Path

from trued.errors import InputRefused
from trued.standing.feature_status import ActionKind, FeatureStatus
from trued.usecases.changes.record_move import MoveView, record_move
from trued.usecases.demo.demo_truth import INCH, Truth
from trued.usecases.plan.plan_job import plan_job
from trued.usecases.plan.planned import PlanView
from trued.usecases.runs.run_check import run_check
from trued.usecases.runs.taking import CheckRun
from trued.usecases.saved.inspect_parts import ProofView, prove_job
from trued.usecases.shop.describe_shop import ShopView, describe_shop
from trued.usecases.standing.standing import StandingView, what_stands

BOOK, SHOP, JOB, SHEETS = "demo.trued", "shop.toml", "job.toml", "sheets"
DEFAULT_FOLDER = "trued-demo"
MOST_RUNS = 8
FEELER = 0.0005 * INCH
_TAKES = timedelta(hours=8)
"""Longer than the demo's whole day: what was found is still fresh when a person looks into its book."""

Result = ShopView | CheckRun | MoveView | StandingView | PlanView | ProofView


@dataclass(frozen=True, slots=True)
class DemoStep:
    """One thing that was done, why, and what came of it."""

    title: str
    why: str
    result: Result


@dataclass(frozen=True, slots=True)
class Outcome:
    """What nobody in the workshop knew, against what the tool said. rad and mm.

    sure: how much the proof called sure; wrong: what of it was not so.
    """

    fence_rad: float
    fence_said: FeatureStatus | None
    fits: tuple[tuple[str, float, bool, float], ...]
    """(fit, what it really came to in mm, whether it fitted, the chance that was told before the first cut)."""
    sure: int
    wrong: tuple[str, ...]
    folder: Path


class Demo:
    """One run of the loop; `steps()` does it, one step after the other, then `outcome` is known."""

    def __init__(self, folder: Path, seed: int = 1, start: datetime | None = None) -> None:
        """`start` is the morning of the demo's day; without it the day ends about now."""
        self.folder = _own_folder(folder)
        self.truth = Truth.drawn(seed)
        self.outcome: Outcome | None = None
        self._clock = start or datetime.now(UTC).replace(second=0, microsecond=0) - _TAKES

    def steps(self) -> Iterator[DemoStep]:
        """The whole job; the folder then holds the book, the shop and job files, and the sheets."""
        yield DemoStep("The workshop", "Saw, sled, wing and instruments are described once.", self._describe())
        yield from self._checks()
        yield from self._true_the_fence()
        yield DemoStep("What is known now", "Everything below rests on this.", self._standing())
        plan = self._plan()
        yield DemoStep("The job", "Parts, board, order of cuts, corrected settings, and whether it fits.", plan)
        lengths = self._cut(plan)
        proof = self._prove(lengths)
        yield DemoStep("The parts as cut", "Measured parts are readings of the saw as well.", proof)
        yield DemoStep("What was learnt", "The measured lengths teach the stop scale.", self._standing())
        self.outcome = self._compare(plan, proof, lengths)

    def _describe(self) -> ShopView:
        for name, source in ((SHOP, "demo_shop.toml"), (JOB, "demo_job.toml")):
            (self.folder / name).write_text(_text(source), encoding="utf-8")
        return describe_shop(self.folder / SHOP, self.book)

    @property
    def book(self) -> Path:
        """The demo's own book."""
        return self.folder / BOOK

    def _checks(self) -> Iterator[DemoStep]:
        truth = self.truth
        yield self._check("kerf", truth.kerf_cut(), "How wide does the blade really cut? The plan must know.")
        yield self._check("bar-play", truth.bar(), "Bar play swings the sled; it must be small before squaring.")
        yield self._check("stop-repeat", truth.repeats(6.0, 6), "Repeatability before accuracy: does the stop repeat?")
        why = "How true is the stop scale, along its whole length? Twice, same setup."
        for _ in range(2):
            yield self._check("stop-scale", truth.scale((4.0, 8.0, 12.0, 16.0, 20.0)), why)

    def _true_the_fence(self) -> Iterator[DemoStep]:
        why = "Is the fence square to the travel?"
        for _ in range(MOST_RUNS):
            run = self._check("five-cut", self.truth.strip(), why)
            yield run
            standing = self._fence()
            step = standing.next if standing is not None else None
            if standing is None or step is None or step.do in (ActionKind.LEAVE, ActionKind.LOOK):
                return
            why = f"{step.text} {step.why}"
            if step.do is ActionKind.MOVE and step.amount is not None:
                yield self._turn(standing, step.direction, step.amount)
                why = "What did the move do?"

    def _turn(self, standing: FeatureStatus, direction: str, amount_rad: float) -> DemoStep:
        """By the nearest feeler at the screw; the truth moves by what really arrives."""
        radius = 16.0 * INCH
        feeler = max(1, round(amount_rad * radius / FEELER)) * FEELER
        self.truth.turn(feeler / radius if direction == "open" else -feeler / radius)
        view = record_move(standing.feature, direction, f"{feeler / INCH:.4f}", self.book, at=self._later(5))
        return DemoStep(f"Turn the fence: {direction}", "By a feeler between block and fence, not by feel.", view)

    def _fence(self) -> FeatureStatus | None:
        view = self._standing()
        return next((line.standing for line in view.lines if ".fence-angle" in line.standing.feature), None)

    def _standing(self) -> StandingView:
        return what_stands(self.book, at=self._clock)

    def _check(self, id: str, typed: list[str], why: str) -> DemoStep:
        facts = {"angle": "0"} if id == "stop-scale" else {}
        run = run_check(id, typed, facts, book=self.book, at=self._later(12))
        return DemoStep(run.check.title, why, run)

    def _plan(self) -> PlanView:
        sheets = self.folder / SHEETS
        sheets.mkdir(exist_ok=True)
        text = (self.folder / JOB).read_text(encoding="utf-8")
        return plan_job(text, book=self.book, out=sheets, at=self._later(10))

    def _cut(self, plan: PlanView) -> dict[str, float]:
        """True length of every part: what its last crosscut at the stop gave it."""
        lengths: dict[str, float] = {}
        for ticket in plan.tickets:
            if ticket.station == "sled" and ticket.setting_mm is not None:
                lengths |= dict.fromkeys(ticket.parts, self.truth.part(ticket.setting_mm))
        return lengths

    def _prove(self, lengths: dict[str, float]) -> ProofView:
        typed = [f"{part}:stick-1={self.truth.caliper(mm)}" for part, mm in sorted(lengths.items())]
        text = (self.folder / JOB).read_text(encoding="utf-8")
        return prove_job(text, typed, book=self.book, at=self._later(90))

    def _compare(self, plan: PlanView, proof: ProofView, lengths: dict[str, float]) -> Outcome:
        from trued.usecases.demo.demo_fits import sure_words, true_fits

        fits = tuple(true_fits(plan, lengths))
        sure = list(sure_words(proof.proof, lengths, {name: fitted for name, _, fitted, _ in fits}))
        wrong = tuple(name for name, right in sure if not right)
        return Outcome(self.truth.fence_rad, self._fence(), fits, len(sure), wrong, self.folder)

    def _later(self, minutes: float) -> datetime:
        self._clock += timedelta(minutes=minutes)
        return self._clock


def demo_book(folder: Path, seed: int = 1) -> Path:
    """Run the whole demo quietly and give its book, for the page."""
    demo = Demo(folder, seed)
    for _ in demo.steps():
        pass
    return demo.book


def _own_folder(folder: Path) -> Path:
    """The folder, emptied of an earlier demo; one that is not the demo's own is refused and left alone."""
    if folder.exists():
        if not folder.is_dir() or (any(folder.iterdir()) and not (folder / BOOK).is_file()):
            text = "This folder is not a demo's own, so it is left alone; name another with --out."
            raise InputRefused.of("--out", str(folder), text)
        for name in (BOOK, f"{BOOK}-wal", f"{BOOK}-shm", SHOP, JOB):
            (folder / name).unlink(missing_ok=True)
        for sheet in (folder / SHEETS).glob("*.pdf"):
            sheet.unlink()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        (folder / JOB).write_text(_text("demo_job.toml"), encoding="utf-8")
    except OSError as error:
        raise InputRefused.of("--out", str(folder), f"Nothing can be written there: {error.strerror}.") from None
    return folder


def _text(name: str) -> str:
    return files("trued.usecases.demo").joinpath(name).read_text(encoding="utf-8")
