"""A book as a script holds it: where it lies, and what can be done with it. Nothing is held open between two calls."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from os import PathLike
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from trued.errors import InputRefused
from trued.library.as_typed import Number, Readings, facts_typed, file_text, number_typed, readings_typed, unit_meant
from trued.units import Unit
from trued.usecases.plan.planned import PlanView

if TYPE_CHECKING:
    from trued.usecases.changes.answer import AnswerView
    from trued.usecases.changes.record_event import EventView
    from trued.usecases.changes.record_move import MoveView
    from trued.usecases.changes.undo import Kept
    from trued.usecases.runs.taking import CheckRun
    from trued.usecases.saved.inspect_parts import ProofView
    from trued.usecases.shop.describe_shop import ShopView
    from trued.usecases.standing.shop_verdict import ShopVerdict
    from trued.usecases.standing.standing import StandingView


def open_book(path: str | PathLike[str], *, create: bool = False) -> Book:
    """The book at `path`, looked at once: one of an older version is brought up to date.

    create: make it, and its folder, where there is none; one that is there stays as it is.
    Raises BookRefused: missing, newer than this program, damaged, locked.
    """
    from trued.usecases.book.ready_book import ready_book

    book = Path(path)
    ready_book(book, make=create)
    return Book(book)


@dataclass(frozen=True, slots=True)
class Book:
    """A book by its place. Each call opens it, does one thing whole or not at all, and closes it; several programs may
    use the same book.

    The same words mean the same everywhere:
    at:      when it was done, with a time zone; None is now.
    key:     an id that the script made (32 hexadecimal digits, as `uuid4().hex`): the same key twice is kept once.
    answers: words that answer what this call asked before (`Asks.questions`).
    Raises, each before anything is kept: InputRefused, Asks, BookRefused.
    """

    path: Path

    def describe(self, shop: Path | str | None = None, *, at: datetime | None = None) -> ShopView:
        """Read a shop file (docs/shop.md; a `Path`, or its text) into the book, or with None show what the book holds.

        What the file does not name stays. Another blade than before is kept as an event of the time `at`.
        """
        from trued.usecases.shop.describe_shop import describe_shop, describe_text

        if shop is None:
            return describe_shop(None, self.path)
        return describe_text(file_text(shop, "shop"), self.path, at=_moment(at))

    def run(
        self,
        check: str,
        readings: Readings,
        *,
        facts: Mapping[str, Number | str] | None = None,
        fixture: str | None = None,
        unit: Unit | None = None,
        tolerance: Number | str | None = None,
        at: datetime | None = None,
        key: str | None = None,
        answers: Sequence[str] = (),
    ) -> CheckRun:
        """Keep one run of a check and say what all runs together come to.

        As `trued.evaluate`, but what the book knows of saw, fixture and instruments fills in. fixture: which of the
        book's, where there are several. unit: of the numbers; None is the book's own.
        Returns the run under its id `run`; `standings` are the features of this check now, `verdict` the answer.
        """
        from trued.usecases.runs.run_check import run_check

        unit_meant(unit)
        return run_check(
            check,
            readings_typed(readings),
            facts_typed(check, facts),
            book=self.path,
            fixture=fixture,
            unit=unit,
            tolerance=None if tolerance is None else number_typed(tolerance, "tolerance"),
            at=_moment(at),
            key=key,
            answers=answers,
        )

    def moved(
        self,
        feature: str,
        direction: str,
        amount: Number | str,
        *,
        at: datetime | None = None,
        key: str | None = None,
        answers: Sequence[str] = (),
    ) -> MoveView:
        """Keep what was really turned.

        amount: a number is in the unit that the hand reads there, that of the order (`FeatureStatus.next.hand.unit`): a
        length at the screw where the book knows its radius, else a slope (in/ft, mm/300mm), a tilt in degrees. A text
        says its own: `"1/24turn"`, `"0.088deg"`.
        Returns the move with its amount in rad or mm, in the hand's unit (`hand`), and the feature after it.
        """
        from trued.usecases.changes.adjustments import with_hand_unit
        from trued.usecases.changes.record_move import record_move

        typed = number_typed(amount, "amount")
        if not isinstance(amount, str):
            typed = with_hand_unit(feature, typed, self.path)
        return record_move(feature, direction, typed, self.path, at=_moment(at), key=key, answers=answers)

    def event(
        self,
        kind: str,
        subject: str = "",
        *,
        at: datetime | None = None,
        key: str | None = None,
        answers: Sequence[str] = (),
    ) -> EventView:
        """Keep what happened (docs/standing.md), as `saw-carried`, and say which features it makes doubtful.

        subject: the id of the thing that it happened to; "" for all that it can mean.
        """
        from trued.usecases.changes.record_event import record_event

        return record_event(kind, subject, self.path, at=_moment(at), key=key, answers=answers)

    def standing(self, *, at: datetime | None = None) -> StandingView:
        """What is known of the shop, and in `do_first` what to do, the most urgent first. Values in rad and mm."""
        from trued.usecases.standing.standing import what_stands

        return what_stands(self.path, at=_moment(at))

    def verdict(self, *, at: datetime | None = None) -> ShopVerdict:
        """Can I cut? `code` is nothing-known, not-yet, look-again, cannot-tell or no-problem; never that it is safe."""
        from trued.usecases.standing.shop_verdict import shop_verdict

        return shop_verdict(self.standing(at=at))

    def plan(
        self,
        job: Path | str,
        *,
        kerf: Number | str | None = None,
        unit: Unit | None = None,
        seed: int = 1,
        effort: int = 2000,
        seconds: float | None = None,
        out: Path | None = None,
        paper: Literal["letter", "a4"] = "letter",
        at: datetime | None = None,
        key: str | None = None,
        stop: Callable[[], bool] | None = None,
    ) -> PlanView:
        """Plan a job (a `Path`, or its text) for this shop as it stands, and keep the plan with every chance it tells.

        As `trued.plan_job`; `kept` is the plan's id. Its `not_good` says whether something stands against it, and
        `problems` what; cautions stand in `cautions`, `safety` and with each of `tickets`.
        """
        from trued.usecases.plan.plan_job import plan_job

        unit_meant(unit)
        return plan_job(
            file_text(job, "job"),
            book=self.path,
            kerf=None if kerf is None else number_typed(kerf, "kerf"),
            seed=seed,
            effort=effort,
            seconds=seconds,
            out=out,
            paper=paper,
            unit=unit,
            at=_moment(at),
            key=key,
            stop=stop,
        )

    def prove(
        self,
        job: Path | str | PlanView,
        measured: Readings,
        *,
        unit: Unit | None = None,
        at: datetime | None = None,
        key: str | None = None,
        answers: Sequence[str] = (),
    ) -> ProofView:
        """Judge measured parts, keep them, and learn from them.

        job: the plan that `plan` returned, or the job as it was planned (a `Path`, or its text).
        measured, unit: as for `trued.prove_job`.
        """
        from trued.usecases.saved.inspect_parts import prove_job

        unit_meant(unit)
        typed = readings_typed(measured, unit or "")
        return prove_job(self._text(job), typed, book=self.path, unit=unit, at=_moment(at), key=key, answers=answers)

    def _text(self, job: Path | str | PlanView) -> str:
        from trued.usecases.saved.saved_plan import find_plan

        if not isinstance(job, PlanView):
            return file_text(job, "job")
        if not job.kept:
            raise InputRefused.of("job", job.job.name, "This plan was kept in no book: give the job that was planned.")
        return find_plan(job.kept, self.path).line.text

    def undo(self, id: str, *, key: str | None = None, answers: Sequence[str] = ()) -> Kept:
        """Take back a run, move, event or answer whose id begins so (six signs at least); what it was."""
        from trued.usecases.changes.undo import take_back

        return take_back(id, self.path, key=key, answers=answers)

    def answer(self, id: str, word: str, *, at: datetime | None = None) -> AnswerView:
        """Answer what is asked about the row whose id begins so (`StandingView.questions`).

        word: one of its choices, or `CODE=WORD` where two questions take that word.
        """
        from trued.usecases.changes.answer import answer

        return answer(id, word, self.path, at=_moment(at))


def _moment(at: datetime | None) -> datetime | None:
    """InputRefused without a time zone: two computers would mean two moments."""
    if at is not None and at.tzinfo is None:
        raise InputRefused.of("at", at.isoformat(), "Give the time with its zone: at.astimezone() is this computer's.")
    return None if at is None else at.astimezone(UTC)
