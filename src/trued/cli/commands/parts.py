"""`trued parts JOB.toml part=size ...`: measured parts, the fits, and what they teach."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from trued.cli.lines import wrapped
from trued.cli.result import Answer, Json, common, question_json, question_lines, when
from trued.cli.text.check import standing_lines
from trued.cli.text.standing_json import standing_json
from trued.usecases.files.folders import book_path
from trued.usecases.files.read_file import read_text
from trued.usecases.plan.words import not_seen_words
from trued.usecases.saved.inspect_parts import ProofView, prove_job
from trued.usecases.showing import brief, chance_said, shown
from trued.usecases.words import SLIP, said
from trued.words.error_keys import keyed

if TYPE_CHECKING:
    from trued.units import Unit
    from trued.usecases.views import PartResult


def options(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """The job, and what was read."""
    del words
    parser.add_argument("job", metavar="JOB.toml", help="the job that was cut")
    parser.add_argument(
        "readings",
        nargs="*",
        metavar="PART[@COPY][.length|.width|.thickness][:instrument]=SIZE",
        help="as shelf@2=13.376, side.width@1=3.497, a difference shelf@2-shelf@1=+0.003, or FIT=0.012",
    )
    parser.add_argument("--unit", choices=("in", "mm"), help="what a bare number means")
    common(parser, strict=True, at=True, asks=True)


def run(args: argparse.Namespace) -> Answer:
    """Judge, and keep when there is a book."""
    view = prove_job(
        read_text(Path(args.job)),
        args.readings,
        book=book_path(args.book),
        unit=args.unit,
        at=when(args.at),
        answers=args.answer,
    )
    return Answer(_json(view), "\n".join(told(view)), not_good=view.not_good)


def told(view: ProofView) -> Iterator[str]:
    """The proof in plain words."""
    unit = view.unit
    yield f"{view.job.name or 'The job'}: measured parts"
    for verdict in (*view.proof.sizes, *view.proof.alike, *view.proof.gaps):
        yield wrapped(_verdict(verdict, unit), "  ")
    for instrument, what in view.reached.items():
        yield wrapped(f"{', '.join(what)}: taken for read with {instrument}, as no caliper here reaches so far", "  ")
    if view.slips:
        yield wrapped(f"{', '.join(view.slips)}: {SLIP}", "  ")
    yield from (wrapped(line, "  ") for line in view.mis_cuts.said)
    for question in view.mis_cuts.questions:
        yield ""
        yield from question_lines(question, f"trued answer {question.about[:8]}")
    if view.proof.fits:
        yield ""
        yield "Does it go together, with what was measured?"
    for fit in view.proof.fits:
        how = f"expected {shown(fit.mean_mm, 'mm', unit)}, give or take {brief(fit.sd_mm, 'mm', unit)}"
        beside = not_seen_words(fit.shares, fit.assumed)
        yield wrapped(f"{fit.name}: {chance_said(fit.chance)} ({how}{'; ' if beside else ''}{beside})", "  ")
    if view.taught:
        yield ""
        yield "What the measured lengths taught about the saw:"
        yield from standing_lines(view.taught, unit)
    yield ""
    yield f"Kept in the book as run {view.run}." if view.run else "Not kept: no book was named."
    if view.record is not None:
        yield (
            f"The tool's own record here: {view.record.judged} chances told, {100 * view.record.stated:.0f} % on "
            f"average; {view.record.fitted} of {view.record.judged} fitted."
        )


def _verdict(v: PartResult, unit: Unit) -> str:
    off = f"{shown(v.off.value, 'mm', unit, sign=True)} off" if v.kind == "size" else shown(v.off.value, "mm", unit)
    if v.decision is None or v.chance is None:
        return f"{v.name}: {off} (no tolerance was given)"
    return f"{v.name}: {off}; {said(v.decision)} ({chance_said(v.chance)} within its tolerance)"


def _json(view: ProofView) -> Json:
    proof = view.proof
    return {
        "job": view.job.name,
        "run": view.run,
        "planned": view.planned,
        "sizes": [_verdict_json(v) for v in proof.sizes],
        "slips": list(view.slips),
        "mis_cut": list(view.mis_cuts.wrong),
        "second_copy": list(view.mis_cuts.second),
        "two_lots": list(view.mis_cuts.lots),
        "asks": [question_json(question) for question in view.mis_cuts.questions],
        "alike": [_verdict_json(v) for v in proof.alike],
        "gaps": [_verdict_json(v) for v in proof.gaps],
        "fits": [
            {"name": f.name, "mean_mm": f.mean_mm, "sd_mm": f.sd_mm, "chance": f.chance, "shares": {**keyed(f.shares)}}
            for f in proof.fits
        ],
        "lessons": [
            {
                "of": str(lesson.of),
                "station": lesson.station,
                "set_mm": lesson.reading_mm,
                "found_mm": lesson.found.value,
            }
            for lesson in proof.lessons
        ],
        "standing": [standing_json(s) for s in view.taught],
        "record": (
            {"judged": view.record.judged, "stated": view.record.stated, "fitted": view.record.fitted}
            if view.record
            else None
        ),
    }


def _verdict_json(v: PartResult) -> Json:
    return {
        "name": v.name,
        "found_mm": v.found.value,
        "off_mm": v.off.value,
        "u_mm": v.off.u,
        "tolerance_mm": [v.limits.low, v.limits.high] if v.limits else None,
        "chance_in": v.chance,
        "decision": v.decision.value if v.decision else None,
    }
