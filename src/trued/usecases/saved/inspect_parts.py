"""Did the parts come out? Measured parts against the fits; kept, they teach the scale and the tool's own record."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from trued.job.angles import detents_for
from trued.job.budget.measuring import BY_REACH
from trued.job.budget.uncertainty_budget import UncertaintyBudget
from trued.job.expression.tree import PartSize, Side
from trued.job.file.read import read_job
from trued.job.fits.fit import FitResult
from trued.job.geometry.fit_spec import FitSpec
from trued.job.groups import SLED, CutGroups, default_groups
from trued.job.job import Job
from trued.job.proof.part_inspection import Inspection, prove
from trued.job.proof.proof_reading import ProofReading, read_proof
from trued.measure.decision import LEVEL, Conformity, ToleranceLimits, decide
from trued.measure.estimate import ErrorSource, UncertainValue
from trued.standing.cuts.cut_errors import CutErrors, assumed_capability
from trued.standing.default_uncertainty import TYPE_B
from trued.standing.feature_status import FeatureStatus
from trued.store.ids import id_under, new_id
from trued.store.rows import CameRow, ReadingRow, RunRow
from trued.units import Unit
from trued.usecases.plan.formats import groups_in
from trued.usecases.questions.asking import keep_answers, settle
from trued.usecases.questions.clock import of_features, time_asked
from trued.usecases.questions.mis_cuts import NONE, MisCuts, mis_cuts_of
from trued.usecases.questions.once import place_of_run
from trued.usecases.shop.measured_parts import SET_TO
from trued.usecases.shop.shop_now import PROOF, ShopNow, opened, read_now

if TYPE_CHECKING:
    from trued.store.book import Book
    from trued.store.rows import PlanRow

SLIP_MM = 6.35  # 1/4 in; a part that is further off was read or cut wrong, and says nothing of a scale: common practice
NO_SHOP_KERF_MM = 2.4  # a thin blade, common practice; without a shop nothing of a proof depends on it


@dataclass(frozen=True, slots=True)
class ForecastRecord:
    """What the tool said before and what came of it: of `judged` chances the mean stated, and how many fitted."""

    judged: int
    stated: float
    fitted: int


@dataclass(frozen=True, slots=True)
class ProofView:
    """The proof. `run` is its id in the book, `planned` whether the settings of a kept plan were used; `taught` are
    the standings that the measured lengths updated; `reached` what was taken for read with another instrument than a
    caliper, because none reaches so far: the instrument, and what was typed of each. `mis_cuts`: parts
    that are likelier mis-cut than the stop is off, and what is asked about them."""

    job: Job
    unit: Unit
    proof: Inspection
    run: str | None
    planned: bool
    taught: tuple[FeatureStatus, ...]
    record: ForecastRecord | None
    reached: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    mis_cuts: MisCuts = NONE

    @property
    def slips(self) -> tuple[str, ...]:
        """Sizes so far off that it is no matter of the scale, in the words of the command line."""
        return tuple(v.name for v in self.proof.sizes if abs(v.off.value) > SLIP_MM)

    @property
    def not_good(self) -> bool:
        """Whether something measured is out, or a fit is unlikely."""
        verdicts = (*self.proof.sizes, *self.proof.alike, *self.proof.gaps)
        return any(v.decision == "proven-out" for v in verdicts) or any(f.chance < LEVEL for f in self.proof.fits)


def prove_job(
    text: str,
    typed: Sequence[str],
    *,
    book: Path | None = None,
    unit: Unit | None = None,
    at: datetime | None = None,
    key: str | None = None,
    answers: Sequence[str] = (),
) -> ProofView:
    """Judge measured parts of the job of that text; with a book keep them. InputRefused names every fault; `answers`
    are those to what this call asked before (`Asks`)."""
    if book is None:
        job = read_job(text, unit=unit)
        holds = assumed_capability(kerf_mm=NO_SHOP_KERF_MM)
        budget = UncertaintyBudget(job, holds, default_groups(job))
        readings = read_proof(job, typed)
        return ProofView(job, unit or job.unit, prove(budget, readings), None, False, (), None, _reached(readings))
    with opened(book) as kept:
        return _kept(kept, book, text, typed, unit, at, key, answers)


def _kept(
    book: Book,
    path: Path,
    text: str,
    typed: Sequence[str],
    unit: Unit | None,
    at: datetime | None,
    key: str | None,
    answers: Sequence[str],
) -> ProofView:
    now = read_now(book, path, at)
    job = read_job(text, unit=unit or now.unit)
    plan = latest_plan(book, text)
    groups = groups_in(plan.json) if plan is not None else None
    detents = detents_for(job, now.shop, now.standings())
    budget = UncertaintyBudget(job, _holds(now), _whole(job, groups), now.instruments, at_angles=detents)
    readings = read_proof(job, typed, now.instruments)
    proof = prove(budget, readings)
    run, rows = _rows(now, job, plan, proof, readings, new_id())
    place = place_of_run(book, key, run, rows, facts=("job",))
    if place.there is None:
        stop = [s.feature for s in now.standings() if ".stop-" in s.feature]
        time = time_asked(book, at, now.now, of_features(stop))
        settled = settle((*place.questions, *time.questions), answers)
        now = replace(now, now=time.moment(settled))
        run, rows = _rows(now, job, plan, proof, readings, place.id)
        if isinstance(slip := place.instead_of(settled), RunRow):
            run = replace(run, supersedes=slip.id, taken=at or slip.taken)
        came = tuple(_came(book, job, plan, proof, run, now.now)) if plan is not None else ()
        time.mend(book, settled)
        book.add_proof(run, rows, came)
        keep_answers(book, settled, run.id, now.now)
    kept = run.id if place.there is None else place.there.id
    after = read_now(book, path, None if at is None else max(at, now.now))
    taught = tuple(s for s in after.standings() if ".stop-" in s.feature) if proof.lessons else ()
    told = own_record(book)
    found = mis_cuts_of(book, after, kept)
    reached = _reached(readings)
    return ProofView(job, unit or job.unit, proof, kept, groups is not None, taught, told, reached, found)


def _reached(readings: Sequence[ProofReading]) -> Mapping[str, tuple[str, ...]]:
    reached: dict[str, tuple[str, ...]] = {}
    for reading in readings:
        if not reading.named and reading.instrument.kind != BY_REACH[0]:
            what = reading.typed.partition("=")[0].strip()
            reached[reading.instrument.id] = (*reached.get(reading.instrument.id, ()), what)
    return reached


def latest_plan(book: Book, text: str) -> PlanRow | None:
    """The last plan that was kept of the job of that text."""
    job = next((row for row in book.jobs() if row.text == text), None)
    plans = book.plans(job=job.id) if job is not None else ()
    return plans[-1] if plans else None


def own_record(book: Book) -> ForecastRecord | None:
    """Stated against seen; None while nothing stated was ever measured."""
    judged = [told for told in book.told() if told.fitted is not None]
    if not judged:
        return None
    mean = sum(told.stated.chance for told in judged) / len(judged)
    return ForecastRecord(len(judged), mean, sum(told.fitted is True for told in judged))


def _holds(now: ShopNow) -> CutErrors:
    blade = now.shop.blade.kerf_mm if now.shop.blade is not None else None
    return now.holds(kerf_mm=blade or NO_SHOP_KERF_MM)


def _whole(job: Job, groups: CutGroups | None) -> CutGroups:
    """The plan's groups, with the usual ones for parts that it did not hold."""
    usual = default_groups(job)
    return usual if groups is None else CutGroups({**usual.of, **groups.of})


def _rows(
    now: ShopNow, job: Job, plan: PlanRow | None, proof: Inspection, readings: Sequence[ProofReading], id: str
) -> tuple[RunRow, tuple[ReadingRow, ...]]:
    facts = {"job": job.name} | ({"plan": plan.id} if plan is not None else {})
    for lesson in proof.lessons:
        off = abs(lesson.found.value - lesson.reading_mm)
        taught = lesson.station == SLED and lesson.of.side is Side.LENGTH and off <= SLIP_MM
        if taught and lesson.found.u <= TYPE_B["stop-offset"].u:  # a coarser reading would teach less than is known
            facts[f"{SET_TO}{lesson.of.part}.{lesson.of.side}@{lesson.of.copy}"] = f"{lesson.reading_mm:.6f}mm"
    fixture = now.shop.sled.id if now.shop.sled is not None else ""
    run = RunRow(id, PROOF, 1, now.now, now.now, fixture, job.unit, facts)
    rows = []
    for seq, reading in enumerate(readings):
        name, station = _named(reading)
        value = reading.typed.partition("=")[2].strip()
        rows.append(
            ReadingRow(
                id_under(run.id, f"reading {seq}"),
                run.id,
                seq,
                name,
                value,
                now.now,
                now.now,
                station,
                job.unit,
                (reading.length.exact_mm.numerator, reading.length.exact_mm.denominator),
                reading.instrument.id,
            )
        )
    return run, tuple(rows)


def _named(reading: ProofReading) -> tuple[str, str]:
    of = reading.of
    if isinstance(of, PartSize):
        return f"{of.part}.{of.side}", str(of.copy or 1)
    return reading.typed.partition("=")[0].strip(), ""


def _came(book: Book, job: Job, plan: PlanRow, proof: Inspection, run: RunRow, at: datetime) -> Iterator[CameRow]:
    """What came of every stated chance that the measured parts settle, one way or the other."""
    whole = {spec.id for spec in job.fits if _all_measured(job, spec, measured_of(proof))}
    settled = {fit.name: came for fit in proof.fits if fit.name in whole and (came := _settled(fit)) is not None}
    measured = {gap.name: gap.chance >= 0.5 for gap in proof.gaps if gap.chance is not None}
    for told in book.told(plan=plan.id):
        name = told.stated.fit
        if name in measured or name in settled:
            fitted = measured.get(name, settled.get(name, False))
            yield CameRow(id_under(run.id, f"came {told.stated.id}"), told.stated.id, run.id, fitted, at)


def misfits_of(view: ProofView) -> tuple[str, ...]:
    """Fits of which every part was measured, and which do not hold for sure."""
    measured = measured_of(view.proof)
    whole = {spec.id for spec in view.job.fits if _all_measured(view.job, spec, measured)}
    return tuple(fit.name for fit in view.proof.fits if fit.name in whole and _settled(fit) is False)


def measured_of(proof: Inspection) -> frozenset[str]:
    """The sizes that were measured, by name."""
    return frozenset(verdict.name for verdict in proof.sizes)


def _all_measured(job: Job, spec: FitSpec, measured: Collection[str]) -> bool:
    """Whether every cut size that a fit rests on was measured, of each copy that it may mean."""
    cut = [use for use in spec.uses if isinstance(use, PartSize) and use.side is not Side.THICKNESS]
    names = (replace(use, copy=n) for use in cut for n in ([use.copy] if use.copy else job.part(use.part).copies))
    return bool(cut) and all(str(name) in measured for name in names)


def _settled(fit: FitResult) -> bool | None:
    """Whether it fitted; None where what was measured cannot tell: a vague size is no misfit."""
    low, high = fit.limits_mm
    found = decide(
        UncertainValue.of(fit.mean_mm, ErrorSource("fit", "as measured", fit.sd_mm, fit.dof)),
        ToleranceLimits(low, high),
    )
    return None if found is Conformity.NOT_PROVEN else found is Conformity.PROVEN_IN
